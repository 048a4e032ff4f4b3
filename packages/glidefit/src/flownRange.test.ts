import { MPS_PER_KT } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { fitGlide } from './fitGlide.js';
import { glideRecording, type Hold, TURNSTONE, USUAL_NOISE } from './glide.fixture.js';

function fitted(holds: readonly Hold[], noise = USUAL_NOISE) {
  const fit = fitGlide(glideRecording({ flown: TURNSTONE, holds, noise, startFt: 3000 }));
  if (!fit.ok) throw new Error(fit.problem.message);
  return fit.value;
}

/** Lift equal to weight at a calibrated airspeed, sea level. */
const liftAt = (kcas: number) =>
  (TURNSTONE.massKg * 9.80665) / (0.5 * 1.225 * (kcas * MPS_PER_KT) ** 2 * TURNSTONE.wingAreaM2);

test('a glide slower than best glide throughout leaves its speed unsaid, with a caution and the range flown', () => {
  // Turnstone glides best at 105 kt.
  const fit = fitted([
    { fromS: 0, kcas: 92, bankDeg: 0 },
    { fromS: 40, kcas: 76, bankDeg: 0 },
  ]);
  expect(fit.flown.bestGlideInside).toBe(false);
  expect(fit.flown.levelKcas.low).toBeGreaterThan(73);
  expect(fit.flown.levelKcas.high).toBeLessThan(96);
  expect(fit.flown.bestGlideLiftCoefficient).toBeLessThan(fit.flown.liftCoefficient.low);
  expect(fit.bestGlideKcas).toMatchObject({ verdict: 'extrapolated', standardError: null, interval95: null });
  expect(fit.cautions.join()).toMatch(/^Best glide was not flown: .* 7\d to 9\d kt .* best glide is faster/);
});

test('a glide faster than best glide throughout is told to go slower', () => {
  const fit = fitted([
    { fromS: 0, kcas: 135, bankDeg: 0 },
    { fromS: 30, kcas: 118, bankDeg: 0 },
  ]);
  expect(fit.flown.bestGlideInside).toBe(false);
  expect(fit.cautions.join()).toContain('glide slower as well to have both measured');
});

test('a range is one of lift: a turn at more than best-glide speed may carry the lift of best glide', () => {
  const fit = fitted([
    { fromS: 0, kcas: 130, bankDeg: 0 },
    { fromS: 25, kcas: 118, bankDeg: 45 }, // 45°: the lift of 118/√1.41 = 99 kt
  ]);
  expect(fit.slowestKcas).toBeGreaterThan(110);
  expect(fit.flown.bestGlideInside).toBe(true);
  expect(fit.bestGlideKcas.verdict).not.toBe('extrapolated');
  expect(fit.cautions.join()).not.toContain('Best glide was not flown');
});

test('the range flown is the lift of the speeds held, whatever single noisy samples say', () => {
  const { flown } = fitted([
    { fromS: 0, kcas: 110, bankDeg: 0 },
    { fromS: 40, kcas: 80, bankDeg: 0 },
  ]);
  expect(Math.abs(flown.liftCoefficient.low / liftAt(110) - 1)).toBeLessThan(0.08);
  expect(Math.abs(flown.liftCoefficient.high / liftAt(80) - 1)).toBeLessThan(0.08);
  expect(Math.abs(flown.bestGlideLiftCoefficient / liftAt(105) - 1)).toBeLessThan(0.05);
});
