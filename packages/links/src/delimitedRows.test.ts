// Delimited lines read where they stand: the same fields as cutting them at the separator gives, whatever the separator.

import { Decoder } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readerOf } from './readers.js';

const separators = fc.constantFrom(',', ';', '\t', '|', '::', ', ');
const field = fc.oneof(
  fc.double({ min: -1e9, max: 1e9, noNaN: true }).map(String),
  fc.integer({ min: -1000, max: 1000 }).map(String),
  fc.constantFrom('', ' ', 'x', 'true', ' 7 ', '1e3', '-', '+5', '.5', '5.', '1.2.3', '0x10'),
);

/** By hand: what stands between separators, as a number, a truth, nothing, or text that is neither. */
function byHand(line: string, separator: string, column: number): unknown {
  const text = line.split(separator)[column]?.trim();
  if (text === undefined || text === '') return undefined;
  if (text === 'true') return true;
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : text;
}

test('every column is what stands between its separators', () => {
  fc.assert(
    fc.property(
      separators,
      fc.array(field, { minLength: 1, maxLength: 8 }),
      fc.array(fc.nat(9), { minLength: 1, maxLength: 6 }),
      fc.constantFrom('', '\n', '\r\n'),
      (separator, fields, columns, lineBreak) => {
        const line = fields.join(separator);
        fc.pre(line.trim() !== '');
        const rowsOf = readerOf(Decoder.parse({ kind: 'delimited', separator }), columns);
        expect(rowsOf(new TextEncoder().encode(line + lineBreak), 0)).toEqual([
          columns.map((column) => byHand(line, separator, column)),
        ]);
      },
    ),
    { numRuns: 1000 },
  );
});
