import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bankFigure, figure, plainNumber, signedFigure, signedNumber, unbroken } from './figures.js';

test.each([
  [1490.4, 0, '1,490'],
  [-1490.6, 0, '−1,491'],
  [4.06, 1, '4.1'],
  [-0.2, 0, '0'],
  [-0.04, 1, '0.0'],
  [0, 0, '0'],
])('%s with %s decimals is written %s', (value, decimals, text) => {
  expect(plainNumber(value, decimals)).toBe(text);
});

test('a sign stands on either side of zero, and not on zero', () => {
  expect([63, -21, 0, 0.3].map((value) => signedNumber(value))).toEqual(['+63', '−21', '0', '0']);
});

test('a figure carries its unit on the same line, degrees without a space', () => {
  expect(figure(1000, 'ft')).toBe('1,000\u00a0ft');
  expect(figure(4.06, 's')).toBe('4.1\u00a0s');
  expect(figure(37.4, '°')).toBe('37°');
  expect(figure(37.4, 'degrees')).toBe('37°');
  expect(figure(1.168, '')).toBe('1.17');
  expect(signedFigure(-1490, 'ft/min')).toBe('−1,490\u00a0ft/min');
});

test.each([null, undefined, Number.NaN, Number.POSITIVE_INFINITY])('%s is not measured, never zero', (value) => {
  expect(figure(value, 'ft')).toBe('not measured');
  expect(signedFigure(value, 'ft')).toBe('not measured');
  expect(bankFigure(value)).toBe('not measured');
});

test('bank is told with its side', () => {
  expect([37.4, -12, 0.4, -0.4].map(bankFigure)).toEqual(['37°\u00a0right', '12°\u00a0left', 'level', 'level']);
});

test('no figure ever shows a hyphen for a minus, or minus zero', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 0, max: 3 }), (value, decimals) => {
      const text = plainNumber(value, decimals);
      expect(text).not.toContain('-');
      if (text.startsWith('−')) expect(text).toMatch(/[1-9]/);
    }),
  );
});

test('in a sentence no figure is parted from its unit, and nothing else changes', () => {
  expect(unbroken('Held 85 kt at 1,490 ft/min for 3 s; 3 stalls, 92 % of 2 seconds.')).toBe(
    'Held 85\u00a0kt at 1,490\u00a0ft/min for 3\u00a0s; 3 stalls, 92\u00a0% of 2 seconds.',
  );
  fc.assert(
    fc.property(fc.string(), (text) => {
      expect(unbroken(text).replaceAll('\u00a0', ' ')).toBe(text.replaceAll('\u00a0', ' '));
    }),
  );
});
