// The change from first to last attempts: how often its interval is wrong, counted, and what is said of it.
import { expect, test } from 'vitest';
import { TREND_CONFIDENCE, trendOf, trendWords } from './compareTrend.js';

const progress = (first: number[], last: number[], measured = 10) => ({ first, last, measured, steps: [] });
const plain = (text: string) => text.replace(/\s+/g, ' ').replace(/−/g, '-');

test('of all 252 orders of ten values that owe nothing to time, the interval holds none in 97 of 100', () => {
  let orders = 0;
  let holds = 0;
  for (let bits = 0; bits < 1024; bits += 1) {
    const [first, last]: [number[], number[]] = [[], []];
    for (let value = 0; value < 10; value += 1) ((bits >> value) & 1 ? first : last).push(value);
    if (first.length !== 5) continue;
    orders += 1;
    const trend = trendOf(progress(first, last));
    if (trend !== null && trend.from < 0 && trend.to > 0) holds += 1;
  }
  expect([orders, holds]).toEqual([252, 244]);
  expect(holds / orders).toBeCloseTo(TREND_CONFIDENCE, 2);
});

test('a shift of all by three is found as three, whatever their order', () => {
  const trend = trendOf(progress([5, 1, 3, 2, 4], [8, 7, 6, 5, 4]));
  expect(trend).toMatchObject({ firstMedian: 3, lastMedian: 6 });
  expect(trend?.from).toBeLessThanOrEqual(3);
  expect(trend?.to).toBeGreaterThanOrEqual(3);
});

test('words claim a change only where the interval leaves no doubt', () => {
  expect(plain(trendWords(progress([50, 52, 54, 56, 58], [80, 82, 84, 86, 88]), 'overall'))).toBe(
    'First five 54, last five 84: more by 24 to 36.',
  );
  expect(plain(trendWords(progress([6, 6.2, 6.4, 6.6, 6.8], [3, 3.2, 3.4, 3.6, 3.8]), 'delayS'))).toMatch(
    /^First five 6\.4 s, last five 3\.4 s: less by \d\.\d to \d\.\d s\.$/,
  );
  expect(plain(trendWords(progress([1, 9, 2, 8, 5], [2, 8, 3, 9, 4]), 'bankDeg'))).toMatch(
    /no clear change \(-\d° to \+\d°\)\.$/,
  );
  // Less than a foot is nothing that is shown.
  expect(plain(trendWords(progress([1, 1, 1, 1, 1], [1.3, 1.3, 1.3, 1.3, 1.3]), 'costFt'))).toMatch(/no clear change/);
});

test('of nine attempts no trend is told', () => {
  expect(trendOf(progress([1, 2, 3, 4, 5], [5, 6, 7, 8, 9], 9))).toBeNull();
  expect(trendWords(progress([1, 2, 3, 4, 5], [5, 6, 7, 8, 9], 9), 'overall')).toBe(
    'Measured in 9: a trend is told from 10 on.',
  );
  expect(trendWords(progress([], [], 0), 'overall')).toBe('Not measured.');
});
