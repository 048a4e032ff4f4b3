// Contradictions between handbook numbers are told; numbers that fit together are left in peace.
import { expect, test } from 'vitest';
import { derivedFigures } from './aeroplane.js';
import { AIRCRAFT_R } from './reference.fixture.js';
import type { AircraftNumbers } from './request.js';

const warned = (change: Partial<AircraftNumbers>) => derivedFigures({ ...AIRCRAFT_R, ...change }).warnings;

test('the reference aeroplane raises no doubt', () => {
  expect(warned({})).toEqual([]);
});

test.each([
  { change: { bestGlideRatio: 25 }, field: 'aircraft.bestGlideRatio', says: 'Oswald efficiency' },
  { change: { bestGlideKcas: 180 }, field: 'aircraft.bestGlideKcas', says: 'zero-lift drag' },
  { change: { stallCleanKcas: 40, stallLandingKcas: 38 }, field: 'aircraft.stallCleanKcas', says: 'without flap' },
  { change: { stallLandingKcas: 34 }, field: 'aircraft.stallLandingKcas', says: 'with flap' },
  { change: { bestGlideKcas: 72 }, field: 'aircraft.bestGlideKcas', says: 'below the stall in a turn at 45° (76 kt)' },
  { change: { bestGlideKcas: 80 }, field: 'aircraft.bestGlideKcas', says: 'least sink' },
  {
    change: {
      climb: [
        { kcas: 92, rateFpm: 700 },
        { kcas: 108, rateFpm: 1300 },
      ],
    },
    field: 'aircraft.climb',
    says: 'grows with speed',
  },
  {
    change: {
      climb: [
        { kcas: 80, rateFpm: 2300 },
        { kcas: 108, rateFpm: 800 },
      ],
    },
    field: 'aircraft.climb',
    says: 'standing thrust',
  },
  {
    change: {
      climb: [
        { kcas: 80, rateFpm: 2300 },
        { kcas: 108, rateFpm: 400 },
      ],
    },
    field: 'aircraft.climb',
    says: 'no thrust at twice the stall',
  },
  { change: { landingRollFt: 200 }, field: 'aircraft.landingRollFt', says: 'mean deceleration of 0.8' },
  { change: { landingRollFt: 9000 }, field: 'aircraft.landingRollFt', says: 'mean deceleration of 0.02' },
  {
    change: { propellerSinkFactor: { coarse: 1, windmillingFine: 0.9 } },
    field: 'aircraft.propellerSinkFactor',
    says: 'it has most',
  },
])('$field: $says', ({ change, field, says }) => {
  const found = warned(change).filter((warning) => warning.field === field && warning.message.includes(says));
  expect(found).toHaveLength(1);
});
