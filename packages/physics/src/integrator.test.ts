// The integrator against a general-purpose ODE solver: the same equations, a hundred random flights.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flyAim } from './aim.js';
import { STEP_S } from './attempt.js';
import { flyByOdeSolver } from './odeFlight.fixture.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import { buildScene } from './scene.js';
import { H, X, Y } from './state.js';
import { M_PER_FT } from './units.js';

const anyFlight = fc.record({
  heightFt: fc.integer({ min: 500, max: 1800 }),
  delayS: fc.integer({ min: 0, max: 6 }),
  bankDeg: fc.integer({ min: 20, max: 55 }),
  targetKcas: fc.integer({ min: 72, max: 105 }),
  aimFt: fc.integer({ min: 500, max: 7000 }),
  side: fc.constantFrom<1 | -1>(1, -1),
  fromTrueDeg: fc.integer({ min: 0, max: 359 }),
  speedKt: fc.integer({ min: 0, max: 15 }),
  flapDownHeightFt: fc.constantFrom(null, 300),
});

// Touchdown within 1 ft and height lost within 0.5 ft of an extrapolation method (Hairer, Nørsett and Wanner) at 1e-9, and
// of the same flight with the step asked for halved.
test('a hundred random flights end where a general-purpose solver ends them', () => {
  let flights = 0;
  fc.assert(
    fc.property(anyFlight, ({ heightFt, aimFt, side, fromTrueDeg, speedKt, ...technique }) => {
      const scene = buildScene(
        requestR({ technique, failure: { heightFt }, weather: surfaceWind(fromTrueDeg, speedKt) }),
        undefined,
      );
      const aim = { side, aimM: aimFt * M_PER_FT };
      const { flown } = flyAim(scene, aim, STEP_S);
      const solved = flyByOdeSolver(scene, aim);
      const feet = (index: number) => ((flown.contact[index] ?? 0) - (solved.contact[index] ?? 0)) / M_PER_FT;
      expect(Math.hypot(feet(X), feet(Y))).toBeLessThan(1);
      expect(Math.abs(feet(H))).toBeLessThan(0.01);
      expect(flown.heightAt180M === null).toBe(solved.heightAt180M === null);
      expect(Math.abs((flown.heightAt180M ?? 0) - (solved.heightAt180M ?? 0)) / M_PER_FT).toBeLessThan(0.5);
      const halved = flyAim(scene, aim, STEP_S / 2).flown;
      const moved = (index: number) => ((flown.contact[index] ?? 0) - (halved.contact[index] ?? 0)) / M_PER_FT;
      expect(Math.hypot(moved(X), moved(Y))).toBeLessThan(1);
      expect(Math.abs((flown.heightAt180M ?? 0) - (halved.heightAt180M ?? 0)) / M_PER_FT).toBeLessThan(0.5);
      flights++;
    }),
    { numRuns: 100, seed: 21, endOnFailure: true },
  );
  expect(flights).toBe(100);
});
