import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fromRunwayFrame, type PlacedRunway, toRunwayFrame } from './index.js';

const runwayAt = (latitudeDeg: number, longitudeDeg: number, headingTrueDeg: number): PlacedRunway => ({
  name: 'test',
  lengthFt: 4000,
  widthFt: 75,
  headingTrueDeg,
  elevationFt: 0,
  surface: 'paved',
  airfield: { beyondEndFt: 0, besideFt: 0 },
  start: { latitudeDeg, longitudeDeg },
});

// GEO-14 and GEO-15: touchdown from threshold 51.5, -0.5, runway true 270, worked with the geodesic routines of
// C. F. F. Karney (J. Geodesy 87, 2013), printed to 0.001 m and 0.1 ft.
test.each([
  [51.5002, -0.51, 2278.2, 73.2],
  [51.4999, -0.5045, 1025.2, -36.5],
])('%f, %f lies where the worked example has it', (latitudeDeg, longitudeDeg, alongFt, acrossFt) => {
  const at = toRunwayFrame(runwayAt(51.5, -0.5, 270), latitudeDeg, longitudeDeg);
  expect(Math.abs(at.alongFt - alongFt)).toBeLessThan(0.06);
  expect(Math.abs(at.acrossFt - acrossFt)).toBeLessThan(0.06);
});

test('there and back again is the same place to a hundredth of a foot', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -70, max: 70, noNaN: true }),
      fc.double({ min: -179, max: 179, noNaN: true }),
      fc.double({ min: 0, max: 360, noNaN: true }),
      fc.double({ min: -20_000, max: 20_000, noNaN: true }),
      fc.double({ min: -20_000, max: 20_000, noNaN: true }),
      (latitudeDeg, longitudeDeg, headingDeg, alongFt, acrossFt) => {
        const runway = runwayAt(latitudeDeg, longitudeDeg, headingDeg);
        const there = fromRunwayFrame(runway, { alongFt, acrossFt });
        const back = toRunwayFrame(runway, there.latitudeDeg, there.longitudeDeg);
        expect(Math.hypot(back.alongFt - alongFt, back.acrossFt - acrossFt)).toBeLessThan(0.01);
      },
    ),
  );
});
