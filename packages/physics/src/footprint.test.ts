// Footprint and fields: still air mirrors, wind shifts, height widens, and the glide reaches what the glide ratio says.
import { expect, test } from 'vitest';
import { fieldsReached } from './fieldsReached.js';
import { footprint } from './footprint.js';
import { areaFt2, distanceToEdgeFt, isInside, type Point } from './polygon.js';
import { requestR, surfaceWind } from './reference.fixture.js';

const still = footprint(requestR());
const square = (along: number, across: number, half: number): Point[] => [
  { alongFt: along - half, acrossFt: across - half },
  { alongFt: along + half, acrossFt: across - half },
  { alongFt: along + half, acrossFt: across + half },
  { alongFt: along - half, acrossFt: across + half },
];

test('straight ahead the glide goes about as far as height times best glide', () => {
  const ahead = still.reaches.find(({ turnDeg }) => turnDeg === 0);
  const flownFt = (ahead?.alongFt ?? 0) - still.failure.alongFt;
  // 1000 ft and some 50 ft climbed on at 10.5:1, less the push to the glide speed and the delay's excess drag.
  expect(flownFt).toBeGreaterThan(1000 * 10.5 * 0.85);
  expect(flownFt).toBeLessThan(1060 * 10.5);
  expect(ahead?.acrossFt).toBeCloseTo(0, 3);
});

test('in still air left and right mirror each other', () => {
  for (const { alongFt, acrossFt } of still.polygon)
    expect(distanceToEdgeFt(still.polygon, { alongFt, acrossFt: -acrossFt })).toBeLessThan(1);
});

test('a wind carries the footprint with it', () => {
  const blown = footprint(requestR({ weather: surfaceWind(0, 10) })); // from the left of a runway to the east
  const middle = (points: readonly Point[]) => points.reduce((sum, { acrossFt }) => sum + acrossFt, 0) / points.length;
  expect(middle(blown.polygon)).toBeGreaterThan(middle(still.polygon) + 500);
});

test('more height reaches all that less did, and more', () => {
  const start = { alongFt: 6000, acrossFt: 0, ktas: 93, headingTrueDeg: 90, verticalSpeedFpm: 1200, bankDeg: 0 };
  const low = footprint(requestR(), { start: { ...start, heightFt: 700 } });
  const high = footprint(requestR(), { start: { ...start, heightFt: 1100 } });
  expect(high.areaFt2).toBeGreaterThan(1.5 * low.areaFt2);
  for (const point of low.polygon) expect(isInside(high.polygon, point)).toBe(true);
});

test('from low down there is no height for large turns, and the ground within reach lies ahead', () => {
  const low = footprint(requestR({ failure: { heightFt: 200 } }));
  expect(low.largestTurnDeg.left).toBeLessThan(90);
  expect(low.largestTurnDeg.right).toBe(low.largestTurnDeg.left);
  for (const { alongFt } of low.polygon) expect(alongFt).toBeGreaterThan(low.failure.alongFt);
  expect(footprint(requestR({ failure: { heightFt: 50 } })).reaches.length).toBeGreaterThanOrEqual(1);
});

test('fields: all, part or none within reach, with the margin of their middle', () => {
  const fields = [
    { name: 'below the glide', polygon: square(14_000, 0, 400) },
    { name: 'across the edge', polygon: square(18_140, 0, 800) },
    { name: 'too far', polygon: square(22_000, 3000, 500) },
  ];
  const [inside, across, out] = fieldsReached(still, fields);
  expect(inside).toMatchObject({ name: 'below the glide', reached: 'all', share: 1 });
  expect(inside?.marginFt).toBeGreaterThan(1000);
  expect(across?.reached).toBe('part');
  expect(across?.share).toBeGreaterThan(0.2);
  expect(across?.share).toBeLessThan(0.8);
  expect(out).toMatchObject({ reached: 'none', share: 0 });
  expect(out?.marginFt).toBeLessThan(-1000);
});

test('polygons: inside, distance and area of a square', () => {
  const box = square(0, 0, 100);
  expect(areaFt2(box)).toBeCloseTo(40_000, 9);
  expect(isInside(box, { alongFt: 99, acrossFt: -99 })).toBe(true);
  expect(isInside(box, { alongFt: 101, acrossFt: 0 })).toBe(false);
  expect(distanceToEdgeFt(box, { alongFt: 0, acrossFt: 30 })).toBeCloseTo(70, 9);
  expect(distanceToEdgeFt(box, { alongFt: 103, acrossFt: 104 })).toBeCloseTo(5, 9);
});

test('bad fields and directions are refused', () => {
  expect(() => fieldsReached(still, [{ name: 'line', polygon: square(0, 0, 10).slice(0, 2) }])).toThrow(
    'fields[0].polygon.length must be 3 or more, got 2',
  );
  expect(() => fieldsReached(still, [{ name: 'flat', polygon: square(0, 0, 0) }])).toThrow('must enclose ground');
  expect(() => fieldsReached(still, [{ name: 'nowhere', polygon: square(Number.NaN, 0, 5) }])).toThrow(
    'fields[0].polygon[0] must be within 1000000 ft',
  );
  expect(() => footprint(requestR(), { directions: 3 })).toThrow(
    'directions must be a whole number from 6 to 360, got 3',
  );
});
