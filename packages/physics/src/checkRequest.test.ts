// The door: impossible numbers are refused with one sentence that names field, value and range.
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { AIRCRAFT_R, requestR } from './reference.fixture.js';
import type { FlyRequest } from './request.js';
import { lowestReturnFt } from './returnHeight.js';
import { FlightSimulation } from './simulation.js';

const REFUSED: readonly { readonly request: FlyRequest; readonly field: string; readonly got: string }[] = [
  { request: requestR({ aircraft: { massKg: -1500 } }), field: 'aircraft.massKg', got: '-1500' },
  { request: requestR({ aircraft: { massKg: Number.NaN } }), field: 'aircraft.massKg', got: 'NaN' },
  { request: requestR({ aircraft: { massKg: 3000, referenceMassKg: 1500 } }), field: 'aircraft.massKg', got: '3000' },
  { request: requestR({ aircraft: { stallCleanKcas: 110 } }), field: 'aircraft.bestGlideKcas', got: '105' },
  { request: requestR({ aircraft: { stallLandingKcas: 70 } }), field: 'aircraft.stallLandingKcas', got: '70' },
  {
    request: requestR({ aircraft: { bestGlideRatio: Number.POSITIVE_INFINITY } }),
    field: 'aircraft.bestGlideRatio',
    got: 'Infinity',
  },
  { request: requestR({ aircraft: { climb: [] } }), field: 'aircraft.climb.length', got: '0' },
  {
    request: requestR({
      aircraft: {
        climb: [
          { kcas: 92, rateFpm: 1300 },
          { kcas: 92, rateFpm: 1180 },
        ],
      },
    }),
    field: 'aircraft.climb[1].kcas',
    got: '92',
  },
  {
    request: requestR({ aircraft: { gearDragCoefficient: -0.01 } }),
    field: 'aircraft.gearDragCoefficient',
    got: '-0.01',
  },
  {
    request: requestR({ aircraft: { propellerSinkFactor: { coarse: 1 } }, failure: { propeller: 'stopped' } }),
    field: 'failure.propeller',
    got: '"stopped"',
  },
  {
    request: requestR({ aircraft: { propellerSinkFactor: { coarse: 1, stopped: 0.55 } } }),
    field: 'aircraft.propellerSinkFactor.stopped',
    got: '0.55',
  },
  {
    request: requestR({
      aircraft: {
        bestGlidePropeller: 'windmillingFine',
        propellerSinkFactor: { stopped: 0.64, windmillingFine: 2.43 },
      },
      failure: { propeller: 'stopped' },
    }),
    field: 'aircraft.propellerSinkFactor.stopped',
    got: '0.64',
  },
  { request: requestR({ runway: { lengthFt: 0 } }), field: 'runway.lengthFt', got: '0' },
  { request: requestR({ runway: { headingTrueDeg: 400 } }), field: 'runway.headingTrueDeg', got: '400' },
  { request: requestR({ weather: { qnhHpa: 29.92 } }), field: 'weather.qnhHpa', got: '29.92' },
  {
    request: requestR({ weather: { winds: [{ heightFt: 33, fromTrueDeg: 90, speedKt: -5 }] } }),
    field: 'weather.winds[0].speedKt',
    got: '-5',
  },
  {
    request: requestR({
      weather: {
        winds: [
          { heightFt: 33, fromTrueDeg: 90, speedKt: 5 },
          { heightFt: 33, fromTrueDeg: 80, speedKt: 5 },
        ],
      },
    }),
    field: 'weather.winds[1].heightFt',
    got: '33',
  },
  { request: requestR({ technique: { targetKcas: 60 } }), field: 'technique.targetKcas', got: '60' },
  { request: requestR({ technique: { bankDeg: 90 } }), field: 'technique.bankDeg', got: '90' },
  { request: requestR({ technique: { delayS: -1 } }), field: 'technique.delayS', got: '-1' },
  { request: requestR({ technique: { turn: 'up' as never } }), field: 'technique.turn', got: '"up"' },
  { request: requestR({ failure: { heightFt: 20 } }), field: 'failure.heightFt', got: '20' },
  { request: requestR({ failure: { powerFraction: 1 } }), field: 'failure.powerFraction', got: '1' },
];

test.each(REFUSED)('refuses $field $got', ({ request, field, got }) => {
  const fly = () => flyAttempt(request);
  expect(fly).toThrow(RangeError);
  expect(fly).toThrow(`${field} must be `);
  expect(fly).toThrow(`, got ${got}`);
  expect(() => lowestReturnFt(request)).toThrow(RangeError);
});

test('every refused request differs from one that flies', () => {
  expect(REFUSED).toHaveLength(23);
  expect(() => flyAttempt(requestR())).not.toThrow();
});

test('an aeroplane that cannot climb there is refused, naming the climb speed', () => {
  const request = requestR({
    runway: { elevationFt: 9000 },
    weather: { temperatureC: 45 },
    technique: { climbKcas: 65 },
  });
  expect(() => flyAttempt({ ...request, aircraft: { ...AIRCRAFT_R, climb: [{ kcas: 92, rateFpm: 300 }] } })).toThrow(
    /technique\.climbKcas must be a speed at which the aeroplane climbs, got 65 kt/,
  );
});

test('a wind stronger than the climb speed is refused', () => {
  const weather = { winds: [{ heightFt: 33, fromTrueDeg: 90, speedKt: 80 }] };
  expect(() => flyAttempt(requestR({ weather }))).toThrow(/weather\.winds must leave the aeroplane moving/);
});

test('a start and options are checked as well', () => {
  const start = {
    alongFt: 8500,
    acrossFt: 0,
    heightFt: 1000,
    ktas: Number.NaN,
    headingTrueDeg: 90,
    verticalSpeedFpm: 0,
    bankDeg: 0,
  };
  expect(() => flyAttempt(requestR(), { start })).toThrow('start.ktas must be 20 to 300 kt, got NaN');
  expect(() => flyAttempt(requestR(), { trackEveryS: 0 })).toThrow('trackEveryS must be 0.02 to 10 s, got 0');
  expect(() => flyAttempt(requestR(), { stepS: 1 })).toThrow('stepS must be 0.005 to 0.2 s, got 1');
});

test('a simulation refuses the same numbers', () => {
  const { aircraft, runway, weather } = requestR({ aircraft: { wingAreaM2: 0 } });
  expect(() => new FlightSimulation({ aircraft, runway, weather, climbKcas: 92 })).toThrow(
    'aircraft.wingAreaM2 must be',
  );
});
