// A clock that starts again every period becomes seconds that go on, whatever the order of small steps.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { continuousTime } from './continuousTime.js';
import type { StandardTime } from './standards.js';

const DAY_S = 86_400;
const totals = (times: readonly StandardTime[]) => times.map(continuousTime());
const ofDay = (seconds: number, period?: number): StandardTime => ({
  seconds,
  periodS: DAY_S,
  ...(period !== undefined && { period }),
});

test('goes on past midnight, and back over it', () => {
  expect(totals([ofDay(86_399), ofDay(0.5), ofDay(86_399.5), ofDay(1)])).toEqual([86_399, 86_400.5, 86_399.5, 86_401]);
});

test('a clock set back goes back', () => {
  expect(totals([ofDay(50_000), ofDay(46_400)])).toEqual([50_000, 46_400]);
});

test('dates count the days between, also where other messages have none', () => {
  expect(totals([ofDay(80_000, 100), ofDay(80_001), ofDay(10, 102), ofDay(11)])).toEqual([
    80_000, 80_001, 172_810, 172_811,
  ]);
  expect(totals([ofDay(86_399), ofDay(1), ofDay(2, 100), ofDay(86_399, 100), ofDay(0, 101)])).toEqual([
    86_399, 86_401, 86_402, 172_799, 172_800,
  ]);
});

test('gives back any time line whose steps are below half a period', () => {
  const periodS = fc.constantFrom(3600, DAY_S, 2 ** 32 / 1000);
  const steps = fc.array(fc.double({ min: -0.49, max: 0.49, noNaN: true }), { maxLength: 50 });
  fc.assert(
    fc.property(periodS, fc.double({ min: 0, max: 0.999, noNaN: true }), steps, (period, start, shares) => {
      const line = [start * period];
      for (const share of shares) line.push((line.at(-1) ?? 0) + share * period);
      const wrapped = line.map((at) => ({ seconds: ((at % period) + period) % period, periodS: period }));
      totals(wrapped).forEach((total, index) => {
        expect(total).toBeCloseTo(line[index] ?? Number.NaN, 4);
      });
    }),
  );
});
