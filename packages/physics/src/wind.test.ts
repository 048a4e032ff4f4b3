// Wind by height: components, log law, interpolation, ends.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { WeatherNumbers } from './request.js';
import { M_PER_FT, MPS_PER_KT } from './units.js';
import { windProfile } from './wind.js';

const into = new Float64Array(2);
function at(winds: WeatherNumbers['winds'], heightFt: number, headingTrueDeg = 90) {
  windProfile(winds, headingTrueDeg).sample(heightFt * M_PER_FT, into);
  return { along: (into[0] ?? 0) / MPS_PER_KT, across: (into[1] ?? 0) / MPS_PER_KT };
}

test('a headwind blows against the take-off, a wind from the left to the right', () => {
  expect(at([{ heightFt: 33, fromTrueDeg: 90, speedKt: 10 }], 33).along).toBeCloseTo(-10, 9);
  expect(at([{ heightFt: 33, fromTrueDeg: 0, speedKt: 10 }], 33).across).toBeCloseTo(10, 9);
  expect(at([{ heightFt: 33, fromTrueDeg: 180, speedKt: 10 }], 33).across).toBeCloseTo(-10, 9);
});

test('no wind is calm at every height', () => {
  for (const heightFt of [0, 50, 3000]) expect(at([], heightFt)).toEqual({ along: 0, across: 0 });
});

test('one wind keeps its direction, and is held above 1000 ft and below 3 ft', () => {
  const winds = [{ heightFt: 33, fromTrueDeg: 60, speedKt: 12 }];
  for (const heightFt of [0, 10, 300, 5000]) {
    const wind = at(winds, heightFt);
    expect(wind.across / wind.along).toBeCloseTo(-Math.tan((30 * Math.PI) / 180), 9);
  }
  expect(at(winds, 5000)).toEqual(at(winds, 1000));
  expect(at(winds, 0)).toEqual(at(winds, 3));
});

test('each wind given is met at its height, the highest is held, and between two the components never overshoot', () => {
  const wind = fc.record({
    heightFt: fc.integer({ min: 3, max: 5000 }),
    fromTrueDeg: fc.integer({ min: 0, max: 359 }),
    speedKt: fc.integer({ min: 0, max: 60 }),
  });
  const several = fc.uniqueArray(wind, { minLength: 2, maxLength: 5, selector: ({ heightFt }) => heightFt });
  fc.assert(
    fc.property(several, fc.integer({ min: 0, max: 8000 }), (winds, heightFt) => {
      for (const given of winds) {
        const off = ((given.fromTrueDeg + 180 - 90) * Math.PI) / 180;
        const found = at(winds, given.heightFt);
        expect(found.along).toBeCloseTo(given.speedKt * Math.cos(off), 6);
        expect(found.across).toBeCloseTo(given.speedKt * Math.sin(off), 6);
      }
      const strongest = Math.max(...winds.map(({ speedKt }) => speedKt));
      const found = at(winds, heightFt);
      const lowest = Math.min(...winds.map((w) => w.heightFt));
      if (heightFt >= lowest) expect(Math.hypot(found.along, found.across)).toBeLessThanOrEqual(strongest + 1e-6);
    }),
    { seed: 3 },
  );
});

test('a wind that backs through a right angle weakens half way in the logarithm: vectors, not angles', () => {
  const z0 = 0.15;
  const winds = [
    { heightFt: 33, fromTrueDeg: 90, speedKt: 10 },
    { heightFt: 1000, fromTrueDeg: 0, speedKt: 10 },
  ];
  const half = Math.sqrt((33 + z0) * (1000 + z0)) - z0;
  const found = at(winds, half);
  expect(found.along).toBeCloseTo(-5, 6);
  expect(found.across).toBeCloseTo(5, 6);
});
