// What is drawn: the same for the same seed, evenly spread, inside its range.
import type { FailurePlan } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawFailure } from './drawFailure.js';

const plan = (change: Partial<FailurePlan>): FailurePlan => ({
  kind: 'total',
  height: { choose: 'range', lowestFt: 400, highestFt: 1400 },
  powerFraction: 0,
  propeller: 'coarse',
  highestHeightFt: 1500,
  ...change,
});
const sealed = (noFailureShare: number) =>
  plan({ height: { choose: 'sealed-series', lowestFt: 400, highestFt: 1400, seed: 5, noFailureShare } });
const seeds = fc.integer({ min: 0, max: 2 ** 31 - 1 });

test('a fixed height is that height', () => {
  const drawn = drawFailure(plan({ height: { choose: 'fixed', heightFt: 900 } }), 1);
  expect(drawn).toEqual({ kind: 'total', heightFt: 900, powerFraction: 0, propeller: 'coarse' });
});

test('a drawn height lies in its range, and the same seed draws it again', () => {
  fc.assert(
    fc.property(
      seeds,
      fc.nat(50),
      fc.double({ min: 50, max: 900, noNaN: true }),
      fc.nat(800),
      (seed, index, lowestFt, span) => {
        const range = plan({
          height: { choose: 'range', lowestFt, highestFt: lowestFt + span },
          highestHeightFt: 2000,
        });
        const drawn = drawFailure(range, seed, index);
        expect(drawn).toEqual(drawFailure(range, seed, index));
        expect(drawn.heightFt).toBeGreaterThanOrEqual(lowestFt);
        expect(drawn.heightFt).toBeLessThanOrEqual(lowestFt + span);
      },
    ),
  );
});

test('heights spread evenly over the range', () => {
  const tenths = new Array<number>(10).fill(0);
  for (let seed = 0; seed < 10_000; seed += 1) {
    const tenth = Math.min(9, Math.floor(((drawFailure(plan({}), seed).heightFt ?? 0) - 400) / 100.1));
    tenths[tenth] = (tenths[tenth] ?? 0) + 1;
  }
  // Binomial with n = 10 000, p = 0.1: five standard deviations are 150.
  for (const count of tenths) expect(Math.abs(count - 1000)).toBeLessThan(150);
});

describe('a sealed series', () => {
  test('is the same whatever the seed of the attempt, and differs along the series', () => {
    const heights = (seed: number) =>
      Array.from({ length: 20 }, (_, index) => drawFailure(sealed(0), seed, index).heightFt);
    expect(heights(1)).toEqual(heights(2));
    expect(new Set(heights(1)).size).toBeGreaterThan(15);
  });
  test('holds the share of attempts without a failure that it should', () => {
    const series = Array.from({ length: 10_000 }, (_, index) => drawFailure(sealed(0.3), 0, index));
    const none = series.filter(({ kind, heightFt }) => kind === 'none' && heightFt === null).length;
    expect(Math.abs(none - 3000)).toBeLessThan(230); // five standard deviations
  });
});

test('power left counts for a partial failure and never for a total one', () => {
  expect(drawFailure(plan({ kind: 'total', powerFraction: 0.5 }), 1).powerFraction).toBe(0);
  expect(drawFailure(plan({ kind: 'partial', powerFraction: 0.5 }), 1).powerFraction).toBe(0.5);
  expect(drawFailure(plan({ kind: 'none' }), 1)).toMatchObject({ kind: 'none', heightFt: null });
});
