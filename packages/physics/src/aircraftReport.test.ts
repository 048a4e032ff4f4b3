// The report of derived figures against the same figures worked by hand, and its doubts.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { aircraftReport } from './aircraftReport.js';
import { AIRCRAFT_R } from './reference.fixture.js';

// Aeroplane R by hand: q(64 kt) = 663.97 Pa, q(105 kt) = 1787.2 Pa, W = 14,710 N, S = 16.8 m², E = 10.5.
const BY_HAND: readonly (readonly [key: string, value: number, digits: number])[] = [
  ['stallAt30Deg', 68.77, 1],
  ['stallAt45Deg', 76.11, 1],
  ['stallAt60Deg', 90.51, 1],
  ['liftMaxClean', 1.319, 3],
  ['bestGlideAngle', 5.44, 2],
  ['bestGlideSink', 1008, -1],
  ['leastSinkSpeed', 79.8, 1],
  ['leastSink', 883, -1],
  ['dragZeroLift', 0.02333, 4],
  ['inducedFactor', 0.0972, 4],
  ['aspectRatio', 6.193, 3],
  ['oswaldEfficiency', 0.529, 3],
  ['climbAngle.0', 8.02, 2],
  ['climbToGlide.0', 1.474, 2],
];

test.each(BY_HAND)('%s of aeroplane R is %d', (key, value, digits) => {
  const figure = aircraftReport(AIRCRAFT_R).figures.find((one) => one.key === key);
  expect(figure?.value).toBeCloseTo(value, digits);
});

// Handbook at 1,000 kg, flown at 1,500: at 92 kt T = 2,323 N, D = 1,728 N, W = 14,710 N: asin((T - D)/W) = 2.3°.
test('climb angles are those at the mass flown, not at the handbook’s', () => {
  const { figures } = aircraftReport({ ...AIRCRAFT_R, referenceMassKg: 1000 });
  const value = (key: string) => figures.find((one) => one.key === key)?.value ?? Number.NaN;
  expect(value('climbAngle.0')).toBeCloseTo(2.32, 1);
  expect(value('climbToGlide.0')).toBeCloseTo(2.32 / 5.44, 1);
  expect(figures.find(({ key }) => key === 'climbAngle.0')?.from).toEqual(
    expect.arrayContaining(['climb', 'massKg', 'referenceMassKg']),
  );
  const heavy = aircraftReport({
    ...AIRCRAFT_R,
    referenceMassKg: 1000,
    climb: [{ kcas: 92, rateFpm: 300 }],
  }).figures;
  expect(heavy.find(({ key }) => key === 'climbAngle.0')?.value).toBeLessThan(0);
});

test('windmilling drags more: the glide in that state is the poorer', () => {
  const ratio = aircraftReport(AIRCRAFT_R).figures.find(({ key }) => key === 'glideRatio.windmillingFine')?.value ?? 0;
  expect(ratio).toBeLessThan(10.5);
  // Drag at the handbook's speed grows by 1.4, half of it that of no lift: 10.5/√1.8.
  expect(ratio).toBeCloseTo(10.5 / Math.sqrt(1.8), 6);
});

test('every figure names numbers that the aeroplane has', () => {
  const { figures } = aircraftReport({ ...AIRCRAFT_R, referenceMassKg: 1550 });
  expect(figures.length).toBeGreaterThan(20);
  expect(new Set(figures.map(({ key }) => key)).size).toBe(figures.length);
  for (const { key, from } of figures) {
    expect(from.length, key).toBeGreaterThan(0);
    for (const field of from) expect({ ...AIRCRAFT_R, referenceMassKg: 1550 }).toHaveProperty(field);
  }
});

test('numbers that contradict each other are doubted, not mended', () => {
  const { warnings } = aircraftReport({ ...AIRCRAFT_R, bestGlideKcas: 70 });
  expect(warnings.map(({ field }) => field)).toContain('aircraft.bestGlideKcas');
});

test('no accepted aeroplane has a figure that is no number', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1e5 }),
      fc.double({ min: 0, max: 300 }),
      fc.double({ min: -1, max: 50 }),
      (massKg, bestGlideKcas, bestGlideRatio) => {
        try {
          const { figures } = aircraftReport({ ...AIRCRAFT_R, massKg, bestGlideKcas, bestGlideRatio });
          return figures.every(({ value }) => Number.isFinite(value));
        } catch (error) {
          return error instanceof RangeError && /^aircraft\./.test(error.message);
        }
      },
    ),
  );
});
