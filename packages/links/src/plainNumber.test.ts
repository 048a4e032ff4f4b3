// Numbers of text read exactly as the language itself reads them, and nothing else is taken for one.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { plainNumber } from './plainNumber.js';

test('reads every decimal number as Number() does', () => {
  const written = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
    fc
      .tuple(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.nat(12))
      .map(([number, decimals]) => number.toFixed(decimals)),
    fc.stringMatching(/^[+-]?\d{0,18}\.?\d{0,18}(e[+-]?\d{1,3})?$/),
  );
  fc.assert(
    fc.property(written, (text) => {
      const number = /\d/.test(text) ? Number(text) : Number.NaN;
      expect(plainNumber(text)).toBe(number);
    }),
    { numRuns: 3000 },
  );
});

test.each([
  '',
  '-',
  '.',
  '+.',
  '0x10',
  '0b1',
  '1_000',
  'Infinity',
  '-Infinity',
  'NaN',
  ' 1',
  '1 ',
  '1.2.3',
  '--1',
  'e5',
  '١',
])('takes %j for no number', (text) => expect(plainNumber(text)).toBeNaN());
test.each([
  ['5.', 5],
  ['.5', 0.5],
  ['-0.1', -0.1],
  ['+7', 7],
  ['1e3', 1000],
  ['0.30000000000000004', 0.30000000000000004],
])('reads %s', (text, number) => expect(plainNumber(text)).toBe(number));
