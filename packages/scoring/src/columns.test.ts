// Reading columns between samples: interpolation, means, slopes, crossings.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { firstCrossing, firstHeld, fitLine, indexAt, smoothed, timeMean, valueAt } from './columns.js';

const times = Float64Array.of(0, 1, 2.5, 3, 7);
const line = times.map((t) => 2 * t - 3);

test('values, slopes, means and smoothing of a straight line are those of the line', () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 7, noNaN: true }), (atS) => {
      expect(valueAt(times, line, atS)).toBeCloseTo(2 * atS - 3, 9);
      expect(indexAt(times, atS)).toBe(times.filter((t) => t <= atS).length - 1);
    }),
  );
  expect(fitLine(times, line, 0, 7)?.slopePerS).toBeCloseTo(2, 12);
  expect(timeMean(times, 0.5, 4.5, (atS) => valueAt(times, line, atS))).toBeCloseTo(2, 12);
  const even = Float64Array.from({ length: 50 }, (_, i) => i / 10);
  expect([...smoothed(even, even, 0.35)].every((value, i) => Math.abs(value - (even[i] as number)) < 1e-9)).toBe(true);
});

test('samples with no time between them have no slope', () => {
  // Their difference squared is less than the smallest number there is.
  const near = Float64Array.of(0, 5.5e-184, 5.6e-184);
  expect(fitLine(near, Float64Array.of(-1, 0, 0), 0, 1)).toBeNull();
});

test('the mean is weighted by time, not by samples', () => {
  // 1 for 9 s, sampled once a second; 5 for 1 s, sampled a hundred times.
  const uneven = Float64Array.from([
    ...Array.from({ length: 10 }, (_, i) => i),
    ...Array.from({ length: 100 }, (_, i) => 9.01 + i / 100),
  ]);
  const level = uneven.map((t) => (t <= 9 ? 1 : 5));
  expect(timeMean(uneven, 0, 10, (atS) => valueAt(uneven, level, atS))).toBeCloseTo(1.4, 1);
});

test('a crossing is interpolated, one that does not last is not held', () => {
  expect(firstCrossing(times, line, 0, 'up', 0, 7)).toBeCloseTo(1.5, 12);
  expect(firstCrossing(times, line, 0, 'down', 0, 7)).toBeNull();
  const t = Float64Array.from({ length: 11 }, (_, i) => i);
  const blip = Float64Array.of(0, 0, 2, 0, 0, 0, 2, 2, 2, 2, 2);
  expect(firstHeld(t, blip, 1, 'above', 2, 0, 10)).toBeCloseTo(5.5, 12);
});
