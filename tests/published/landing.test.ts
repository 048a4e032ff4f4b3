// Landing distances: surface, slope, tail wind and their product against the leaflets.
import { flyAttempt, groundRollM, landingSlopeFactor } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { retractableRequest } from './retractable.js';

// UK CAA Safety Sense Leaflet 7: a tenth more for each 2 % downhill.
test.each([
  { percent: 2, factor: 1.1 },
  { percent: 1, factor: 1.05 },
  { percent: 0, factor: 1 },
  { percent: -2, factor: 1 },
])('landing $percent % downhill takes $factor of the level roll', ({ percent, factor }) => {
  expect(landingSlopeFactor(percent)).toBeCloseTo(factor, 12);
});

// The same leaflet: a tail wind of a tenth of the landing speed takes 1.20; by the square of the groundspeed it is 1.21.
test('a tail wind of a tenth of the landing speed', () => {
  expect(Math.abs(groundRollM(300, 33, 30, 'paved') / 300 - 1.2)).toBeLessThan(0.011);
});

// Factors multiply: wet grass 1.35 and that tail wind 1.21 by the square law, downhill 1.1.
test('factors multiply', () => {
  expect(groundRollM(300, 33, 30, 'wet-grass', 2) / 300).toBeCloseTo(1.35 * 1.21 * 1.1, 9);
});

// FAA-H-8083-25C ch. 11: 10 % faster, at least 21 % farther; half a gust of 10 kt carried on 65 kt: ((65 + 5)/65)² = 1.1598.
test.each([
  { factor: 1.1, share: 1.21 },
  { factor: 1.05, share: 1.1025 },
  { factor: 70 / 65, share: 1.1598 },
])('$factor of the speed at touchdown takes $share of the roll', ({ factor, share }) => {
  expect(Math.abs(groundRollM(270, 30 * factor, 30, 'paved') / 270 - share)).toBeLessThan(1e-4);
});

test('in the model a tail wind on the return lengthens the roll by the square of the groundspeed', () => {
  const roll = (speedKt: number) => {
    const request = retractableRequest(900);
    const { touchdown, stopMarginFt } = flyAttempt(
      { ...request, weather: { ...request.weather, winds: [{ heightFt: 33, fromTrueDeg: 180, speedKt }] } },
      { aimFt: 4000 },
    );
    return { feet: touchdown.alongFt - (stopMarginFt ?? Number.NaN), kt: touchdown.groundspeedKt };
  };
  const calm = roll(0);
  const tail = roll(5);
  expect(tail.kt).toBeGreaterThan(calm.kt + 2);
  expect(tail.feet / calm.feet).toBeCloseTo((tail.kt / calm.kt) ** 2, 6);
});
