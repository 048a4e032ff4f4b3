// An aeroplane that climbs no higher is planned up to there, and a drawn pilot is never asked to fail above it.
import { expect, test } from 'vitest';
import { climbsTo, highestClimbFt } from './climbCeiling.js';
import { flyAttempt } from './flyAttempt.js';
import { lowestReturnNearFt } from './lowestReturn.js';
import { plan, spreadHeightsFt } from './plan.js';
import { AIRCRAFT_R, requestR } from './reference.fixture.js';
import { spread } from './spread.js';

const weak = {
  ...requestR(),
  aircraft: {
    ...AIRCRAFT_R,
    climb: [
      { kcas: 92, rateFpm: 80 },
      { kcas: 108, rateFpm: 70 },
    ],
  },
  failure: { ...requestR().failure, heightFt: 300 },
};
const ceilingFt = highestClimbFt(weak, 3000);
const at = (heightFt: number) => () => flyAttempt({ ...weak, failure: { ...weak.failure, heightFt } });

test('up to it a failure can be flown, above it not', () => {
  expect(ceilingFt).toBeGreaterThan(500);
  expect(ceilingFt).toBeLessThan(3000);
  expect(at(ceilingFt)).not.toThrow();
  expect(at(ceilingFt + 50)).toThrow(/no climb left/);
  expect(climbsTo(weak, ceilingFt)).toBe(true);
  expect(climbsTo(weak, ceilingFt + 1)).toBe(false);
  expect(highestClimbFt(requestR(), 3000)).toBe(3000);
});

test('a plan without heights asked scans up to where the aeroplane climbs', () => {
  const answer = plan(weak, { stepFt: 500, spread: null });
  expect(answer.scan.toFt).toBe(ceilingFt);
});

test('a drawn climb speed at which it would not get there gives way to the planned one', () => {
  const { heights } = spread(weak, { draws: 25, heightsFt: [ceilingFt - 100], errors: { climbSpeedSdKt: 15 } });
  expect(Object.values(heights[0]?.outcomes ?? {}).reduce((a, b) => a + b, 0)).toBe(25);
});

test('no height of a spread lies above it, but from a recorded state, which is there', () => {
  expect(Math.max(...spreadHeightsFt(weak, ceilingFt - 100))).toBe(ceilingFt);
  const start = {
    alongFt: 0,
    acrossFt: 0,
    heightFt: 900,
    ktas: 90,
    headingTrueDeg: 90,
    verticalSpeedFpm: 0,
    bankDeg: 0,
  };
  expect(Math.max(...spreadHeightsFt(weak, ceilingFt, start))).toBeGreaterThan(ceilingFt);
});

test('a lowest return is sought no higher', () => {
  expect(lowestReturnNearFt(weak, 600)).toBeNull();
});
