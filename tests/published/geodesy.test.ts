// The runway frame against geodesics of WGS 84 (C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87, 2013) and radii of curvature.
import { fromRunwayFrame, type PlacedRunway, Runway, toRunwayFrame } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';

const M_PER_FT = 0.3048;

function runwayAt(latitudeDeg: number, longitudeDeg: number, headingTrueDeg: number): PlacedRunway {
  const start = { latitudeDeg, longitudeDeg };
  const runway = Runway.parse({
    name: '00',
    lengthFt: 4000,
    widthFt: 75,
    headingTrueDeg,
    elevationFt: 0,
    surface: 'paved',
    start,
  });
  return { ...runway, start };
}

describe('the direct problem: a point so far along the take-off direction', () => {
  test.each([
    { from: [51.5, -0.5], azimuthDeg: 270, alongM: 914.4, to: [51.4999992609, -0.5131681047] },
    { from: [40, -105], azimuthDeg: 85, alongM: 1524, to: [40.0011948878, -104.9822208851] },
    { from: [65, 25], azimuthDeg: 30, alongM: 2000, to: [65.0155335966, 25.0212097471] },
  ] as const)('$alongM m on $azimuthDeg° from $from', ({ from, azimuthDeg, alongM, to }) => {
    const runway = runwayAt(from[0], from[1], azimuthDeg);
    const point = fromRunwayFrame(runway, { alongFt: alongM / M_PER_FT, acrossFt: 0 });
    expect(Math.abs(point.latitudeDeg - to[0])).toBeLessThan(1e-9);
    expect(Math.abs(point.longitudeDeg - to[1])).toBeLessThan(1e-9);
  });
});

describe('the inverse problem: how far and in which direction a point lies', () => {
  test.each([
    { from: [51.5, -0.5], point: [51.51, -0.5], distanceM: 1112.57929, azimuthDeg: 0 },
    { from: [51.5, -0.5], point: [51.5, -0.48], distanceM: 1388.810328, azimuthDeg: 89.99217392 },
    { from: [40, -105], point: [40.01, -105.01], distanceM: 1400.705464, azimuthDeg: -37.55769332 },
    { from: [0, 0], point: [0.01, 0], distanceM: 1105.742758, azimuthDeg: 0 },
    { from: [0, 0], point: [0, 0.01], distanceM: 1113.194908, azimuthDeg: 90 },
  ] as const)('$point from $from', ({ from, point, distanceM, azimuthDeg }) => {
    const { alongFt, acrossFt } = toRunwayFrame(runwayAt(from[0], from[1], 0), point[0], point[1]);
    expect(Math.abs(Math.hypot(alongFt, acrossFt) * M_PER_FT - distanceM)).toBeLessThan(1e-5);
    expect(Math.abs((Math.atan2(acrossFt, alongFt) * 180) / Math.PI - azimuthDeg)).toBeLessThan(1e-7);
  });
});

test.each([
  { point: [51.5002, -0.51], alongM: 694.402, acrossM: 22.299 },
  { point: [51.4999, -0.5045], alongM: 312.483, acrossM: -11.116 },
] as const)('a touchdown at $point on a runway heading 270° lies $alongM m along', ({ point, alongM, acrossM }) => {
  const { alongFt, acrossFt } = toRunwayFrame(runwayAt(51.5, -0.5, 270), point[0], point[1]);
  expect(Math.abs(alongFt * M_PER_FT - alongM)).toBeLessThan(0.01);
  expect(Math.abs(acrossFt * M_PER_FT - acrossM)).toBeLessThan(0.01);
});

test.each([0, 40, 51.5, -65])(
  'at %f° a small step agrees with the radii of curvature of the ellipsoid',
  (latitudeDeg) => {
    // Meridian and prime-vertical radii (any text on geodesy), with the defining constants of WGS 84: no library involved.
    const [semiMajorM, flattening] = [6378137, 1 / 298.257223563];
    const eccentricity2 = flattening * (2 - flattening);
    const sin2 = Math.sin((latitudeDeg * Math.PI) / 180) ** 2;
    const meridianM = (semiMajorM * (1 - eccentricity2)) / (1 - eccentricity2 * sin2) ** 1.5;
    const primeVerticalM = semiMajorM / Math.sqrt(1 - eccentricity2 * sin2);
    const stepDeg = 0.001;
    const stepRad = (stepDeg * Math.PI) / 180;
    const runway = runwayAt(latitudeDeg, 12, 0);
    const north = toRunwayFrame(runway, latitudeDeg + stepDeg, 12).alongFt * M_PER_FT;
    const east = toRunwayFrame(runway, latitudeDeg, 12 + stepDeg).acrossFt * M_PER_FT;
    expect(Math.abs(north / (meridianM * stepRad) - 1)).toBeLessThan(1e-6);
    expect(Math.abs(east / (primeVerticalM * Math.cos((latitudeDeg * Math.PI) / 180) * stepRad) - 1)).toBeLessThan(
      1e-6,
    );
  },
);
