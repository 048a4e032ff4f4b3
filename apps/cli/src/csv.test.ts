// Cells as RFC 4180 has them.
import { expect, test } from 'vitest';
import { cellText, csv } from './csv.js';

test.each([
  ['plain', 'plain'],
  ['a,b', '"a,b"'],
  ['a "b"', '"a ""b"""'],
  ['two\nlines', '"two\nlines"'],
  [null, ''],
  [true, 'true'],
  [1234.56, '1234.6'],
  [0.12345, '0.1235'],
  [-0.00001, '0'],
  [-12.5, '-12.5'],
  ['=1+1', "'=1+1"],
  ['@a,b', `"'@a,b"`],
])('%j is the cell %s', (value, text) => {
  expect(cellText(value)).toBe(text);
});

test('a heading alone is a sheet too', () => {
  expect(csv(['a', 'b'], [])).toBe('a,b\r\n');
});
