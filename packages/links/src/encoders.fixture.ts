// Small encoders for the example profiles, written from the profiles alone: the sending side in tests.
import { BINARY_WIDTHS, type LinkProfile } from '@stillprop/contracts';
import { bytesOfHex, writeNumber } from './binaryNumbers.js';

/** Raw values by slot, as the simulator would have them. */
export type RawValues = Readonly<Record<string, number>>;

const utf8 = new TextEncoder();

/** One message that carries these values in the form that the profile's decoder describes. */
export function encodeRow({ decoder }: LinkProfile, values: RawValues): Uint8Array {
  switch (decoder.kind) {
    case 'keyValue': {
      const pairs = Object.entries(values).map(
        ([name, value]) => `${name}${decoder.keySeparator}${String(value).replace('.', decoder.decimal)}`,
      );
      return utf8.encode(`${pairs.join(decoder.pairSeparator)}\n`);
    }
    case 'delimited': {
      const names = decoder.columns ?? Object.keys(values);
      const tag = decoder.startsWith?.trim();
      const fields = names.map((name) => (name === 'tag' ? (tag ?? '') : (values[name] ?? '')));
      return utf8.encode(`${fields.join(decoder.separator.repeat(decoder.repeats === true ? 3 : 1))}\n`);
    }
    case 'json': {
      const object: Record<string, number[]> = {};
      for (const [path, value] of Object.entries(values)) {
        const [key = '', index = ''] = path.split('.');
        const list = object[key] ?? [];
        list[Number(index)] = value;
        object[key] = list;
      }
      return utf8.encode(JSON.stringify(object));
    }
    case 'binary':
      return binary(decoder, values);
    default:
      throw new Error(`no encoder for ${decoder.kind}`);
  }
}

function binary(decoder: Extract<LinkProfile['decoder'], { kind: 'binary' }>, values: RawValues): Uint8Array {
  const { records, match, fields, littleEndian } = decoder;
  const indices = [...new Set(Object.keys(values).flatMap((slot) => (slot.includes('/') ? [slot.split('/')[0]] : [])))];
  const fixed = Math.max(0, ...fields.map(({ offset, type }) => offset + BINARY_WIDTHS[type]));
  const bytes = new Uint8Array(
    records === undefined ? fixed : records.firstOffset + indices.length * records.lengthBytes,
  );
  const view = new DataView(bytes.buffer);
  const put = (offset: number, value: number | undefined, type: (typeof fields)[number]['type'], little?: boolean) => {
    if (value !== undefined) writeNumber(view, offset, value, { type, littleEndian: little ?? littleEndian });
  };
  for (const { offset, hex, text } of match) bytes.set(hex === undefined ? utf8.encode(text) : bytesOfHex(hex), offset);
  for (const field of fields) put(field.offset, values[field.name], field.type, field.littleEndian);
  for (const [at, index] of [...indices].reverse().entries()) {
    const start = (records?.firstOffset ?? 0) + at * (records?.lengthBytes ?? 0);
    if (records === undefined) break;
    put(start + records.index.offset, Number(index), records.index.type, records.index.littleEndian);
    for (const field of records.fields) {
      put(start + field.offset, values[`${index}/${field.name}`], field.type, field.littleEndian);
    }
  }
  return bytes;
}
