import { expect, test } from 'vitest';
import { dayAir } from './atmosphere.js';
import { levelAirspeedMps, loadFactorOfPath, pathAngleRad, trueAirspeedAt } from './pathThroughAir.js';

test('calibrated is true at the sea level of a standard day, and less than true above', () => {
  const air = dayAir({ temperatureC: 15, qnhHpa: 1013.25 }, 0);
  expect(trueAirspeedAt(air, 100, 0)).toBeCloseTo(100, 3);
  // U.S. Standard Atmosphere, 1976: density ratio 0.8617 at 5 000 ft, and 1/√0.8617 = 1.0773.
  expect(trueAirspeedAt(air, 100, 1524)).toBeCloseTo(107.73, 1);
});

test('a 3-4-5 triangle: climb 30, level 40 and airspeed 50 m/s', () => {
  expect(levelAirspeedMps(50, 30)).toBeCloseTo(40, 12);
  expect(levelAirspeedMps(50, -30)).toBeCloseTo(40, 12);
  expect(Math.tan(pathAngleRad(30, 50))).toBeCloseTo(3 / 4, 12);
  expect(Math.tan(pathAngleRad(-30, 50))).toBeCloseTo(-3 / 4, 12);
});

test('a climb faster than the airspeed is straight up, and an aeroplane at rest has a level path', () => {
  expect(pathAngleRad(60, 50)).toBeCloseTo(Math.PI / 2, 12);
  expect(levelAirspeedMps(50, 60)).toBe(0);
  expect(pathAngleRad(0, 0)).toBe(0);
});

test('load factor: 1 level, 2 in a level turn at 60°, 2 at the bottom of a loop that asks for another g', () => {
  expect(loadFactorOfPath(0, 0, 50, 0)).toBe(1);
  expect(loadFactorOfPath(0, 0, 50, Math.PI / 3)).toBeCloseTo(2, 12);
  expect(loadFactorOfPath(0, 9.80665 / 50, 50, 0)).toBeCloseTo(2, 12);
  expect(loadFactorOfPath(0, 0, 50, Math.PI / 2)).toBeCloseTo(10, 12);
});
