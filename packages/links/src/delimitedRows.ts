// Lines of delimited text as rows: columns by number from 0, or by the names that the profile lists.
import type { LinkProfile } from '@stillprop/contracts';
import type { RowReader } from './decode.js';

type DelimitedDecoder = Extract<LinkProfile['decoder'], { kind: 'delimited' }>;

const PLAIN_NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
const WORDS: Readonly<Record<string, boolean>> = { true: true, false: false };

/** Cuts a datagram into rows; lines that do not begin as the profile says are passed over. */
export function delimitedRows(decoder: DelimitedDecoder): RowReader {
  const column = new Map(decoder.columns?.map((name, index) => [name, index] as const));
  return (text) =>
    text
      .split(/\r\n|\n|\r/)
      .filter((line) => line.trim() !== '' && line.startsWith(decoder.startsWith ?? ''))
      .map((line) => {
        const fields = line.split(decoder.separator);
        return (slot) => {
          const field = fields[typeof slot === 'number' ? slot : (column.get(slot) ?? -1)];
          return field === undefined ? undefined : fieldValue(field.trim(), decoder.decimal);
        };
      });
}

/** An empty field is absent; what is neither number nor truth stays text, and is refused as such. */
function fieldValue(field: string, decimal: '.' | ','): unknown {
  if (field === '') return undefined;
  const plain = decimal === '.' ? field : field.replace('.', '?').replace(',', '.');
  return PLAIN_NUMBER.test(plain) ? Number(plain) : (WORDS[field.toLowerCase()] ?? field);
}
