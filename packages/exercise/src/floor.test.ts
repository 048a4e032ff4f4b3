// Practice over a floor: height counts from it, the climb from it is the lift-off, and reaching it again is the end.
import type { Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { fly, setupOf, totalAt } from './flight.fixture.js';

const FLOOR_FT = 3000;
const base = setupOf({ drawn: totalAt(500) });
const setup = {
  ...base,
  scenario: { ...base.scenario, practice: { from: 'floor', floorAltitudeFt: FLOOR_FT } as const },
};
/** The fixture's point, carried up so that its runway lies 40 ft above the floor; and always airborne. */
const aloft = (liftFt: number) => (sample: Sample) => ({
  ...sample,
  altitudeFt: sample.altitudeFt - 312 + FLOOR_FT + liftFt,
  heightFt: 2800 + (sample.heightFt ?? 0),
  onGround: false,
});

test('the failure comes at its height above the floor, whatever the height above the ground', () => {
  const { trial, powerFellAt } = fly(setup, { onTheWay: aloft(40) });
  expect(trial.event('lift-off')?.text).toMatch(/floor/);
  expect(Math.abs((powerFellAt?.heightFt ?? 0) + 40 - 500)).toBeLessThan(4);
});

test('reaching the floor ends the attempt, and is no contact', () => {
  const { trial } = fly(setup, { onTheWay: aloft(-40) });
  expect(trial.closeReason).toBe('floor');
  expect(trial.codes).not.toContain('contact');
  expect(trial.samples.at(-1)?.altitudeFt).toBeLessThanOrEqual(FLOOR_FT);
});

test('armed well above the floor, nothing fires: the climb did not begin there', () => {
  const { trial } = fly(setup, { onTheWay: aloft(120), forS: 120 });
  expect(trial.codes).not.toContain('lift-off');
  expect(trial.sends).toEqual([]);
});

test('parked on a field above the floor, nothing counts as a climb', () => {
  const parked = (sample: Sample) => ({ ...aloft(40)(sample), onGround: true });
  expect(fly(setup, { onTheWay: parked, forS: 120 }).trial.codes).toEqual(['armed']);
});
