// What heights are counted from: the best of three, and a disagreement is told, never averaged.
import type { Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { describe as words } from './describe.js';
import { fly, setupOf } from './flight.fixture.js';

const ELEVATION_FT = 312; // of the shelf's runway
const DRAWN_FT = 1000;
const NEAR_FT = 4;
/** Truth: the fixture's own height. Each change is what a simulator with something amiss tells of it. */
const changed = (change: (heightFt: number) => Partial<Sample>) => (sample: Sample) => ({
  ...sample,
  ...change(sample.altitudeFt - ELEVATION_FT),
});
const sourceEvents = (trial: ReturnType<typeof fly>['trial']) =>
  trial.events.filter(({ text }) => text.includes('heights are counted by'));

test.each([
  [
    'a height channel that is 280 ft off',
    changed((heightFt) => ({ heightFt: heightFt + 280 })),
    /height of 280 ft/,
    /altitude less the runway's elevation/,
  ],
  [
    'an altitude 120 ft off, and a height that is 280 ft off',
    changed((heightFt) => ({ heightFt: heightFt + 280, altitudeFt: ELEVATION_FT + heightFt + 120 })),
    /height of 280 ft and an altitude of 432 ft/,
    /altitude less what it was on the ground/,
  ],
  [
    'an altitude 120 ft off and a good height',
    changed((heightFt) => ({ altitudeFt: ELEVATION_FT + heightFt + 120 })),
    /altitude of 432 ft/,
    /the height channel/,
  ],
])('with %s the failure comes at its height above the runway, and the choice is recorded', (_, onTheWay, off, used) => {
  const { trial, powerFellAt } = fly(setupOf(), { onTheWay });
  expect(Math.abs((powerFellAt?.heightFt ?? 0) - DRAWN_FT)).toBeLessThan(NEAR_FT);
  const [told, ...more] = sourceEvents(trial);
  expect(more).toEqual([]);
  expect(told?.text).toMatch(off);
  expect(told?.text).toMatch(used);
  expect(told?.figures?.elevationFt).toBe(ELEVATION_FT);
  expect(Math.abs((trial.event('power-fell')?.figures?.heightFt ?? 0) - DRAWN_FT)).toBeLessThan(NEAR_FT);
});

test('an altitude 120 ft off without a height channel is zeroed where the aeroplane stood', () => {
  const onTheWay = changed((heightFt) => ({ altitudeFt: ELEVATION_FT + heightFt - 120 }));
  const { trial, powerFellAt } = fly(setupOf(), { without: ['heightFt'], onTheWay });
  expect(Math.abs((powerFellAt?.heightFt ?? 0) - DRAWN_FT)).toBeLessThan(NEAR_FT);
  expect(sourceEvents(trial)[0]?.figures).toEqual({ altitudeFt: 192, elevationFt: ELEVATION_FT, zeroAltitudeFt: 192 });
});

test('channels that agree to 40 ft are left as they are, and nothing is said of it', () => {
  const { trial } = fly(setupOf(), { onTheWay: changed((heightFt) => ({ altitudeFt: ELEVATION_FT + heightFt + 40 })) });
  expect(sourceEvents(trial)).toEqual([]);
});

test('one wild height on the ground changes no source', () => {
  const wild = (sample: Sample) => (Math.abs(sample.timeS - 10) < 0.01 ? { ...sample, heightFt: 300 } : sample);
  expect(sourceEvents(fly(setupOf(), { onTheWay: wild }).trial)).toEqual([]);
});

test('height and altitude that part in the climb hold the failure back, and both figures are told', () => {
  const onTheWay = changed((heightFt) => ({ heightFt: heightFt * 0.7 }));
  const { trial } = fly(setupOf(), { onTheWay, forS: 100 });
  expect(trial.sends).toEqual([]);
  const told = trial.events.find(({ text }) => text.includes('one of them is wrong'));
  expect(told?.figures?.heightFt).toBeLessThan((told?.figures?.altitudeHeightFt ?? 0) - 100);
  expect(words(trial.state).text).toMatch(/Data fault: Since the lift-off height rose by/);
  expect(trial.state.intake.faults.parted).toBeGreaterThan(100);
});

test('pressure altitude on a hot day, 8 % short, does not keep the failure from coming', () => {
  const onTheWay = changed((heightFt) => ({ altitudeFt: ELEVATION_FT + heightFt * 0.92 }));
  const { trial, powerFellAt } = fly(setupOf(), { onTheWay });
  expect(Math.abs((powerFellAt?.heightFt ?? 0) - DRAWN_FT)).toBeLessThan(NEAR_FT);
  expect(trial.state.intake.faults.parted).toBe(0);
});
