// Binary messages of a fixed layout as rows: numbers by offset, and records that repeat, told apart by an index.
import { BINARY_WIDTHS, type BinaryField, type DecoderOf } from '@stillprop/contracts';
import { bytesOfHex, numberReader } from './binaryNumbers.js';
import { problem } from './problemAt.js';
import type { DecoderKind, Slot } from './readers.js';

type BinaryDecoder = DecoderOf<'binary'>;

export const binaryKind: DecoderKind<'binary'> = {
  isText: false,
  problem: ({ match, fields, records }) => {
    for (const [index, { hex, text }] of match.entries()) {
      if ((hex === undefined) === (text === undefined)) {
        return problem(`decoder.match[${index}]`, 'must have either hex or text');
      }
    }
    const twice = repeatedName(fields);
    if (twice !== undefined) return problem('decoder.fields', `must have each name once, got "${twice}" twice`);
    if (records === undefined) return null;
    const inside = repeatedName(records.fields);
    if (inside !== undefined)
      return problem('decoder.records.fields', `must have each name once, got "${inside}" twice`);
    for (const { name, offset, type } of [{ name: 'index', ...records.index }, ...records.fields]) {
      if (offset + BINARY_WIDTHS[type] > records.lengthBytes) {
        const rule = `must leave room for ${type} in records of ${records.lengthBytes} bytes`;
        return problem(`decoder.records: offset of ${name}`, `${rule}, got ${offset}`);
      }
    }
    return null;
  },
  slotRule: ({ fields, records }, slot) => {
    const { name, index } = inRecord(slot);
    if (index === null) {
      return fields.some((field) => field.name === name)
        ? null
        : 'must be the name of a field, or <index>/<name> in a record';
    }
    if (records === undefined) return 'must be the name of a field: this decoder has no records';
    return records.fields.some((field) => field.name === name)
      ? null
      : 'must be <index>/<name> with a field of the records';
  },
  reader: (decoder, slots) => {
    const matches = matcher(decoder);
    const fillFields = fieldFiller(decoder, slots);
    const fillRecords = recordFiller(decoder, slots);
    return (message) => {
      if (!matches(message)) return [];
      const view = new DataView(message.buffer, message.byteOffset, message.byteLength);
      const row = new Array<unknown>(slots.length).fill(undefined);
      fillFields(view, row);
      fillRecords?.(view, row);
      return [row];
    };
  },
};

type Filler = (view: DataView, row: unknown[]) => void;

/** `<index>/<name>` in a record, or a field's name alone (index null). */
function inRecord(slot: Slot): { readonly index: number | null; readonly name: string } {
  const [, index, name] = /^(-?\d+)\/(.*)$/s.exec(String(slot)) ?? [];
  return index === undefined || name === undefined
    ? { index: null, name: String(slot) }
    : { index: Number(index), name };
}

function matcher({ match }: BinaryDecoder): (message: Uint8Array) => boolean {
  const wanted = match.map(({ offset, hex, text }) => ({
    offset,
    bytes: hex === undefined ? new TextEncoder().encode(text) : bytesOfHex(hex),
  }));
  return (message) => {
    for (const { offset, bytes } of wanted) {
      for (let at = 0; at < bytes.length; at += 1) if (message[offset + at] !== bytes[at]) return false;
    }
    return true;
  };
}

function fieldReaders(
  fields: readonly BinaryField[],
  littleEndian: boolean,
  places: ReadonlyMap<string, readonly number[]>,
) {
  return fields.flatMap((field) => {
    const read = numberReader(field.type, field.littleEndian ?? littleEndian);
    const endsAt = field.offset + BINARY_WIDTHS[field.type];
    return (places.get(field.name) ?? []).map((place) => ({ place, offset: field.offset, endsAt, read }));
  });
}

function fieldFiller({ fields, littleEndian }: BinaryDecoder, slots: readonly Slot[]): Filler {
  const readers = fieldReaders(fields, littleEndian, placesOf(slots, null));
  return (view, row) => {
    const { byteLength } = view;
    for (const { place, offset, endsAt, read } of readers) {
      if (endsAt <= byteLength) row[place] = read(view, offset);
    }
  };
}

/** Of records with the same index the last is taken; a last record that is cut short is none. */
function recordFiller({ records, littleEndian }: BinaryDecoder, slots: readonly Slot[]): Filler | null {
  if (records === undefined) return null;
  const { firstOffset, lengthBytes, index, fields } = records;
  const readIndex = numberReader(index.type, index.littleEndian ?? littleEndian);
  const indices = new Set(slots.map((slot) => inRecord(slot).index));
  const readersOf = new Map(
    [...indices].map((number) => [number, fieldReaders(fields, littleEndian, placesOf(slots, number))] as const),
  );
  return (view, row) => {
    for (let start = firstOffset; start + lengthBytes <= view.byteLength; start += lengthBytes) {
      const readers = readersOf.get(readIndex(view, start + index.offset));
      if (readers === undefined) continue;
      for (const { place, offset, read } of readers) row[place] = read(view, start + offset);
    }
  };
}

/** Which places of a row the names of one record (null: of the message itself) fill. */
function placesOf(slots: readonly Slot[], index: number | null): Map<string, number[]> {
  const places = new Map<string, number[]>();
  for (const [place, slot] of slots.entries()) {
    const at = inRecord(slot);
    if (at.index === index) places.set(at.name, [...(places.get(at.name) ?? []), place]);
  }
  return places;
}

function repeatedName(fields: readonly BinaryField[]): string | undefined {
  return fields.find(({ name }, at) => fields.findIndex((other) => other.name === name) !== at)?.name;
}
