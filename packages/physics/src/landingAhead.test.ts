// What comes down ahead before it turned back is no return, though it lies inside the airfield.
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { isLandingAhead } from './landingAhead.js';
import { requestR } from './reference.fixture.js';
import { returnWindows } from './returnWindows.js';

const low = requestR({ failure: { heightFt: 120 } });

test('from 120 ft the turn is never flown: the flight is told as ahead, inside the airfield', () => {
  const { outcome, turnedDeg, touchdown } = flyAttempt(low);
  expect(outcome).toBe('on-airfield');
  expect(turnedDeg).toBeLessThan(10);
  expect(touchdown.alongFt).toBeGreaterThan(3000);
  expect(isLandingAhead(outcome, (turnedDeg * Math.PI) / 180)).toBe(true);
});

test('no window holds a height from which the flight comes down ahead', () => {
  const { windows } = returnWindows(low, { fromFt: 50, toFt: 800 });
  expect(windows.map(({ outcome }) => outcome)).toEqual(['stopped-on-runway', 'on-airfield']);
  for (const { fromFt, fromIsScanEnd, lowest, highest } of windows) {
    expect(fromIsScanEnd).toBe(false);
    expect(fromFt).toBeGreaterThan(200);
    for (const { turnedDeg } of [lowest, highest]) expect(turnedDeg).toBeGreaterThanOrEqual(90);
  }
});

test('a landing on a runway is a return however little it turned, for the runway may cross', () => {
  expect(isLandingAhead('stopped-on-runway', 1)).toBe(false);
  expect(isLandingAhead('overrun', 1)).toBe(false);
  expect(isLandingAhead('on-airfield', 1)).toBe(true);
  expect(isLandingAhead('off-airfield', 2)).toBe(false);
});
