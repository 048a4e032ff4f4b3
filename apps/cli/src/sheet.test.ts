// Rounding errs on the safe side, and nothing is wider than the sheet.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cost, downTo10, entry, ft, gain, plain, SHEET_COLUMNS, upTo10, wrap, written } from './sheet.js';

test.each([
  [636, 640, 630],
  [640, 640, 640],
  [640.2, 650, 640],
  [-4, 0, -10],
])('%d ft is had at %d ft and not passed at %d ft', (value, up, down) => {
  expect(upTo10(value) + 0).toBe(up);
  expect(downTo10(value)).toBe(down);
});

test.each([
  [9, '+10'],
  [-9, '−5'],
  [-4, '0'],
  [0, '0'],
  [1001, '+1,005'],
  [null, '—'],
])('a cost of %s ft is told as %s', (value, text) => {
  expect(cost(value)).toBe(text);
});

test('a negative figure has a true minus, and zero has none', () => {
  expect([-0.3, -0, -1234.6].map(ft)).toEqual(['0 ft', '0 ft', '−1,235 ft']);
  expect([-0.04, -4.06].map(plain)).toEqual(['0', '−4.1']);
  expect([written(-0.04, 1), written(-7.56, 1), written(1.05, 2)]).toEqual(['0.0', '−7.6', '1.05']);
});

test('what something saves is told towards less', () => {
  expect([44, 45, -1, 3].map(gain)).toEqual(['40', '45', '−5', '0']);
});

test('a number stays beside its unit, and what was set in stays set in', () => {
  expect(wrap('  it is at least 1,450 ft up', 4, 20)).toEqual(['  it is at least', '    1,450 ft up']);
});

test('no text is wider than the sheet, and no word is lost', () => {
  fc.assert(
    fc.property(fc.array(fc.stringMatching(/^[!-~]{1,200}$/), { minLength: 1, maxLength: 30 }), (words) => {
      const text = words.join(' ');
      for (const lines of [wrap(text, 4), wrap(`  ${text}`, 2), entry('Label', text)])
        expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(SHEET_COLUMNS);
      expect(wrap(text).join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
    }),
  );
});
