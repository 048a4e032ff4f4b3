// Coefficients from handbook numbers: put back into steady flight they give the handbook numbers again.
import { expect, test } from 'vitest';
import { deriveAeroplane, derivedFigures, fullThrustN } from './aeroplane.js';
import { dayAir } from './atmosphere.js';
import { bestGlide } from './closedForms.js';
import { steadyClimb } from './departure.js';
import { FlightModel } from './flight.js';
import { steadyPathRad } from './pilot.js';
import { AIRCRAFT_R } from './reference.fixture.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import { MPS_PER_FPM, MPS_PER_KT } from './units.js';
import { windProfile } from './wind.js';

const AIR = dayAir({ temperatureC: 15, qnhHpa: 1013.25 }, 0);
const HIGH_M = 1000;

function sinkMps(
  aircraft: typeof AIRCRAFT_R,
  kcas: number,
  propeller: 'coarse' | 'stopped' | 'windmillingFine',
): number {
  const model = new FlightModel(deriveAeroplane(aircraft), AIR, windProfile([], 0));
  model.propellerDrag = model.plane.propellerDrag[propeller] ?? Number.NaN;
  const tas = kcas * MPS_PER_KT;
  return -Math.sin(steadyPathRad(model, tas, 0, HIGH_M, 0)) * tas;
}

test('best glide is where the handbook has it, with its ratio', () => {
  const plane = deriveAeroplane(AIRCRAFT_R);
  expect(bestGlide(plane).ratio).toBeCloseTo(10.5, 9);
  const glide = (kcas: number) => (kcas * MPS_PER_KT) / sinkMps(AIRCRAFT_R, kcas, 'coarse');
  expect(glide(105)).toBeCloseTo(10.5, 0);
  expect(glide(105)).toBeGreaterThan(glide(100));
  expect(glide(105)).toBeGreaterThan(glide(110));
});

test('least sink is at 0.76 of the best-glide speed', () => {
  const { leastSinkKcas } = derivedFigures(AIRCRAFT_R);
  expect(leastSinkKcas).toBeCloseTo(105 * 0.75984, 3);
  for (const other of [leastSinkKcas - 4, leastSinkKcas + 4])
    expect(sinkMps(AIRCRAFT_R, leastSinkKcas, 'coarse')).toBeLessThan(sinkMps(AIRCRAFT_R, other, 'coarse'));
});

test('the propeller factors are factors on the sink at best glide', () => {
  const coarse = sinkMps(AIRCRAFT_R, 105, 'coarse');
  expect(sinkMps(AIRCRAFT_R, 105, 'stopped') / coarse).toBeCloseTo(1.05, 2);
  expect(sinkMps(AIRCRAFT_R, 105, 'windmillingFine') / coarse).toBeCloseTo(1.4, 1);
});

test('a handbook glide flown with the propeller stopped makes the coarse one better, not the stopped one worse', () => {
  const aircraft = { ...AIRCRAFT_R, bestGlidePropeller: 'stopped' as const };
  expect(sinkMps(aircraft, 105, 'stopped')).toBeCloseTo(sinkMps(AIRCRAFT_R, 105, 'coarse'), 9);
  expect(sinkMps(aircraft, 105, 'coarse')).toBeLessThan(sinkMps(aircraft, 105, 'stopped'));
});

test.each(AIRCRAFT_R.climb)('the climb at $kcas kt comes out as entered, clear of the ground', ({ kcas, rateFpm }) => {
  const uniform = { ...AIR, densityKgM3: () => SEA_LEVEL_DENSITY_KG_M3 };
  const climb = steadyClimb(deriveAeroplane(AIRCRAFT_R), uniform, kcas * MPS_PER_KT, HIGH_M);
  expect((climb.tasMps * climb.sinPath) / MPS_PER_FPM).toBeCloseTo(rateFpm, 0);
});

test('from one climb point the thrust power is constant and lapses with density', () => {
  const { thrust } = deriveAeroplane({ ...AIRCRAFT_R, climb: [{ kcas: 92, rateFpm: 1300 }] });
  const power = (tas: number, density: number) => fullThrustN(thrust, tas, density) * tas;
  expect(power(60, SEA_LEVEL_DENSITY_KG_M3)).toBeCloseTo(power(45, SEA_LEVEL_DENSITY_KG_M3), 6);
  // Gagg and Ferrar at σ 0.8617: 0.8434 of the power (Gudmundsson, eq. 7-16).
  const share = power(50, 0.86167 * SEA_LEVEL_DENSITY_KG_M3) / power(50, SEA_LEVEL_DENSITY_KG_M3);
  expect(share).toBeCloseTo(0.8434, 3);
});

test('stall and glide speeds go with the root of the mass, the polar stays', () => {
  const heavy = derivedFigures({ ...AIRCRAFT_R, massKg: 1650, referenceMassKg: 1500 });
  const light = derivedFigures({ ...AIRCRAFT_R, referenceMassKg: 1500 });
  expect(heavy.stallCleanKcas / light.stallCleanKcas).toBeCloseTo(Math.sqrt(1.1), 9);
  expect(heavy.bestGlideKcas / light.bestGlideKcas).toBeCloseTo(Math.sqrt(1.1), 9);
  expect(heavy.liftMaxClean).toBe(light.liftMaxClean);
  expect(heavy.dragZeroLift).toBe(light.dragZeroLift);
});

test('the figures derived are those of a real light aeroplane', () => {
  const figures = derivedFigures(AIRCRAFT_R);
  expect(figures.oswaldEfficiency).toBeGreaterThan(0.5);
  expect(figures.oswaldEfficiency).toBeLessThan(1);
  expect(figures.liftMaxClean).toBeGreaterThan(1);
  expect(figures.liftMaxClean).toBeLessThan(2);
  expect(figures.bestGlideSinkFpm).toBeGreaterThan(900);
  expect(figures.bestGlideSinkFpm).toBeLessThan(1100);
});
