// Laws of mechanics that no choice of a pilot changes: moving frames, turned maps, mirrored sides, small causes.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { flyHeadingTurn } from './headingTurn.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import type { FlightStart } from './request.js';
import { lowestStopFt, returnWindows } from './returnWindows.js';
import { buildScene } from './scene.js';
import { H, VX, VY, X, Y } from './state.js';
import { MPS_PER_KT, RAD_PER_DEG } from './units.js';

const START: FlightStart = {
  alongFt: 5000,
  acrossFt: 0,
  heightFt: 2500,
  ktas: 95,
  headingTrueDeg: 90,
  verticalSpeedFpm: 1200,
  bankDeg: 0,
};

// In a wind that is the same at all heights the flight through the air is the still-air one, carried along.
test('a uniform wind aloft is a Galilean shift', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 359 }),
      fc.integer({ min: 1, max: 40 }),
      fc.integer({ min: 30, max: 330 }),
      (fromTrueDeg, speedKt, turnDeg) => {
        const winds = [33, 6000].map((heightFt) => ({ heightFt, fromTrueDeg, speedKt }));
        const still = flyHeadingTurn(buildScene(requestR(), START), 1, turnDeg * RAD_PER_DEG);
        const blown = flyHeadingTurn(buildScene(requestR({ weather: { winds } }), START), 1, turnDeg * RAD_PER_DEG);
        const towards = (fromTrueDeg + 180 - 90) * RAD_PER_DEG;
        const [along, across] = [Math.cos(towards), Math.sin(towards)].map((share) => share * speedKt * MPS_PER_KT);
        expect(blown.timeS).toBeCloseTo(still.timeS, 6);
        expect(blown.state[H]).toBeCloseTo(still.state[H] ?? Number.NaN, 5);
        expect(blown.state[X]).toBeCloseTo((still.state[X] ?? 0) + (along ?? 0) * still.timeS, 4);
        expect(blown.state[Y]).toBeCloseTo((still.state[Y] ?? 0) + (across ?? 0) * still.timeS, 4);
        expect(blown.state[VX]).toBeCloseTo((still.state[VX] ?? 0) + (along ?? 0), 5);
        expect(blown.state[VY]).toBeCloseTo((still.state[VY] ?? 0) + (across ?? 0), 5);
      },
    ),
    { numRuns: 25, seed: 12 },
  );
});

test('a turned map changes nothing: runway and wind by the same angle', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 359 }), fc.integer({ min: 0, max: 359 }), (turnDeg, fromTrueDeg) => {
      const flown = (byDeg: number) =>
        flyAttempt(
          requestR({
            runway: { headingTrueDeg: (90 + byDeg) % 360 },
            weather: surfaceWind((fromTrueDeg + byDeg) % 360, 12),
            technique: { turn: 'right' },
          }),
          { aimFt: 4500 },
        );
      const { touchdown, heightLostTo180Ft } = flown(0);
      const turned = flown(turnDeg);
      expect(turned.touchdown.alongFt).toBeCloseTo(touchdown.alongFt, 3);
      expect(turned.touchdown.acrossFt).toBeCloseTo(touchdown.acrossFt, 3);
      expect(turned.heightLostTo180Ft ?? 0).toBeCloseTo(heightLostTo180Ft ?? 0, 4);
    }),
    { numRuns: 15, seed: 4 },
  );
});

test('moved along, runway and all, the flight is the same: the ground has no memory', () => {
  const flown = (alongFt: number, aimFt: number) =>
    flyAttempt(requestR({ technique: { turn: 'left' } }), { start: { ...START, heightFt: 900, alongFt }, aimFt });
  const here = flown(8000, 4000);
  const there = flown(9500, 5500);
  expect(there.touchdown.alongFt - 1500).toBeCloseTo(here.touchdown.alongFt, 3);
  expect(there.touchdown.acrossFt).toBeCloseTo(here.touchdown.acrossFt, 3);
});

test('in still air more delay never helps: the lowest return only rises with it', () => {
  const lowest = [1, 2, 3, 4, 5].map(
    (delayS) =>
      lowestStopFt(returnWindows(requestR({ technique: { delayS } }), { fromFt: 500, toFt: 900 }).windows) ??
      Number.NaN,
  );
  for (let i = 1; i < lowest.length; i++) expect(lowest[i]).toBeGreaterThan(lowest[i - 1] ?? Number.NaN);
});

test('to a given aim, a little more of anything moves the touchdown a little', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 700, max: 1500 }),
      fc.integer({ min: 30, max: 50 }),
      fc.integer({ min: 76, max: 100 }),
      fc.integer({ min: 2500, max: 6000 }),
      (heightFt, bankDeg, targetKcas, aimFt) => {
        const flown = (more: number) =>
          flyAttempt(
            requestR({
              failure: { heightFt: heightFt + more },
              technique: { turn: 'left', bankDeg: bankDeg + more, targetKcas: targetKcas + more },
            }),
            { aimFt },
          );
        const base = flown(0);
        const near = flown(0.01);
        const nearer = flown(0.001);
        const moved = (other: typeof base) => Math.abs(other.touchdown.alongFt - base.touchdown.alongFt);
        expect(moved(near)).toBeLessThan(20);
        expect(moved(nearer)).toBeLessThan(5);
      },
    ),
    { numRuns: 20, seed: 6 },
  );
});
