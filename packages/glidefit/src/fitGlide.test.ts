import type { Recording, Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { fitGlide } from './fitGlide.js';
import { type GlideFlown, glideRecording, type Hold, TURNSTONE, USUAL_NOISE, WHEATEAR } from './glide.fixture.js';
import type { FitOptions, GlideFit } from './glideFit.js';

const THREE_SPEEDS: readonly Hold[] = [
  { fromS: 0, kcas: 105, bankDeg: 0 },
  { fromS: 30, kcas: 80, bankDeg: 0 },
  { fromS: 50, kcas: 95, bankDeg: 30 },
];
const TURNING: readonly Hold[] = [
  { fromS: 0, kcas: 90, bankDeg: 30 },
  { fromS: 12, kcas: 80, bankDeg: 30 },
];
const ONE_SPEED: readonly Hold[] = [{ fromS: 0, kcas: 90, bankDeg: 0 }];
const FRESH_WIND = { temperatureC: 25, qnhHpa: 1000, winds: [{ heightFt: 33, fromTrueDeg: 100, speedKt: 15 }] };
const CALM = { temperatureC: 25, qnhHpa: 1000, winds: [] };

function fitted(glide: Partial<GlideFlown>, options: FitOptions = {}): GlideFit {
  const fit = fitGlide(glideRecording({ flown: TURNSTONE, holds: THREE_SPEEDS, ...glide }), options);
  if (!fit.ok) throw new Error(fit.problem.message);
  return fit.value;
}

function refused(recording: Recording, options: FitOptions = {}) {
  const fit = fitGlide(recording, options);
  if (fit.ok) throw new Error('was fitted');
  expect(fit.problem.message).not.toContain('\n');
  return fit.problem;
}

const within = (value: number, truth: number, share: number) => expect(Math.abs(value / truth - 1)).toBeLessThan(share);

test.each<[string, Partial<GlideFlown>]>([
  ['a retractable', {}],
  ['a trainer with its own speeds', { flown: WHEATEAR, propeller: 'windmillingFine', holds: trainerHolds() }],
  ['a light load', { flown: { ...TURNSTONE, massKg: 1250, referenceMassKg: 1500 } }],
  ['samples five times a second', { rateHz: 5 }],
  ['wind that falls with height', { weather: FRESH_WIND, startFt: 1500 }],
])('without noise the polar comes back within 1 %%: %s', (_, glide) => {
  const { flown = TURNSTONE } = glide;
  const fit = fitted(glide);
  within(fit.bestGlideRatio.value, flown.bestGlideRatio, 0.01);
  within(
    fit.bestGlideKcas.value,
    flown.bestGlideKcas * Math.sqrt(flown.massKg / (flown.referenceMassKg ?? flown.massKg)),
    0.01,
  );
  within(fit.dragZeroLift.value, fit.dragZeroLift.expected, 0.01);
  within(fit.inducedFactor.value, fit.inducedFactor.expected, 0.01);
  within(fit.propellerSinkFactor.value, 1, 0.01);
  expect(fit.bestGlideRatio.verdict).toBe('agrees');
  expect(fit.held).toEqual([]);
});

function trainerHolds(): Hold[] {
  return [
    { fromS: 0, kcas: 80, bankDeg: 0 },
    { fromS: 30, kcas: 60, bankDeg: 0 },
    { fromS: 60, kcas: 70, bankDeg: -25 },
  ];
}

test('without load factor and true airspeed both are worked out, and the polar comes back within 2 %', () => {
  const fit = fitted({ without: ['loadFactor', 'trueAirspeedKt'] });
  within(fit.bestGlideRatio.value, TURNSTONE.bestGlideRatio, 0.005);
  within(fit.dragZeroLift.value, fit.dragZeroLift.expected, 0.02);
  within(fit.inducedFactor.value, fit.inducedFactor.expected, 0.02);
  expect(fit.cautions.join()).toContain('load factor is not recorded');
});

test('an aeroplane that glides 15 % worse than its handbook is told, with noisy instruments', () => {
  const flown = { ...TURNSTONE, bestGlideRatio: TURNSTONE.bestGlideRatio * 0.85 };
  const { bestGlideRatio, sinkAtBestGlideFpm } = fitted({ flown, file: TURNSTONE, noise: USUAL_NOISE });
  expect(bestGlideRatio.verdict).toBe('differs');
  expect(bestGlideRatio.text).toBe('glides 15 % worse than the handbook');
  expect(bestGlideRatio.interval95?.low).toBeLessThan(flown.bestGlideRatio);
  expect(bestGlideRatio.interval95?.high).toBeGreaterThan(flown.bestGlideRatio);
  expect(bestGlideRatio.interval95?.high).toBeLessThan(TURNSTONE.bestGlideRatio * 0.9);
  expect(sinkAtBestGlideFpm.text).toMatch(/^sinks 1[78] % faster than the handbook$/);
});

test('a propeller windmilling in fine pitch comes back as its sink factor, whatever the file says of it', () => {
  const file = { ...TURNSTONE, propellerSinkFactor: { ...TURNSTONE.propellerSinkFactor, windmillingFine: 1.15 } };
  const told = fitted({ propeller: 'windmillingFine', noise: USUAL_NOISE }).propellerSinkFactor;
  within(told.value, 1.4, 0.01);
  expect(told.verdict).toBe('agrees');
  const untold = fitted({ propeller: 'windmillingFine', noise: USUAL_NOISE, file }).propellerSinkFactor;
  within(untold.value, 1.4, 0.01);
  expect([untold.verdict, untold.expected.toFixed(2)]).toEqual(['differs', '1.15']);
});

test('a propeller state the file has no factor for is held against the handbook glide, and said', () => {
  const file = { ...TURNSTONE, propellerSinkFactor: { coarse: 1 } };
  const fit = fitted({ propeller: 'windmillingFine', file });
  within(fit.propellerSinkFactor.value, 1.4, 0.01);
  expect(fit.propellerSinkFactor.expected).toBeCloseTo(1, 9);
  expect(fit.cautions.join()).toContain('no sink factor for the propeller state "windmillingFine"');
});

test('a wind that nobody told is estimated from the track, and the figures are as good', () => {
  const glide = { weather: FRESH_WIND, toldWeather: CALM, startFt: 1500, noise: USUAL_NOISE };
  const fit = fitted(glide, { wind: 'estimated' });
  // Above 1000 ft and at 33 ft the log law has ln(1000/0.15)/ln(33/0.15) = 1.632 between them (MIL-F-8785C); the
  // middle of this glide lies near 740 ft, where it is 1.577.
  expect(fit.wind.heightFt).toBeGreaterThan(600);
  expect(fit.wind.heightFt).toBeLessThan(850);
  expect(Math.abs(fit.wind.speedKt - 15 * 1.577)).toBeLessThan(1);
  expect(Math.abs(fit.wind.fromTrueDeg - 100)).toBeLessThan(2);
  expect(Math.abs((fit.wind.airspeedRatio?.value ?? 0) - 1)).toBeLessThan(0.01);
  within(fit.bestGlideRatio.value, TURNSTONE.bestGlideRatio, 0.01);
});

test('the wind gradient is part of the energy: taken as calm the same glide comes out worse, and is cautioned', () => {
  const glide = { weather: { ...FRESH_WIND, winds: [{ heightFt: 33, fromTrueDeg: 240, speedKt: 20 }] }, startFt: 1000 };
  const straight = [
    { fromS: 0, kcas: 105, bankDeg: 0 },
    { fromS: 20, kcas: 85, bankDeg: 0 },
  ];
  const known = fitted({ ...glide, holds: straight });
  const asCalm = fitted({ ...glide, holds: straight, toldWeather: CALM });
  within(known.propellerSinkFactor.value, 1, 0.01);
  expect(asCalm.propellerSinkFactor.value).toBeGreaterThan(1.02);
  expect(asCalm.cautions.join()).toMatch(/ground track tells of a wind of \d+ kt from 2[34]\d°/);
});

test('without a turn an error of the airspeed cannot be told from wind, and that is said', () => {
  const straight = fitted({ holds: THREE_SPEEDS.slice(0, 2) }, { wind: 'estimated' });
  expect(straight.wind.airspeedRatio).toBeNull();
  expect(straight.cautions.join()).toContain('an error of the airspeed looks like wind');
});

test.each([1.05, 0.95])(
  'an airspeed %s times the true one is the first caution, and no figure is held against the handbook',
  (factor) => {
    const recording = glideRecording({ flown: TURNSTONE, holds: THREE_SPEEDS, noise: USUAL_NOISE });
    const samples = recording.samples.map((sample) => ({
      ...sample,
      trueAirspeedKt: (sample.trueAirspeedKt as number) * factor,
    }));
    const fit = fitGlide({ ...recording, samples });
    if (!fit.ok) throw new Error(fit.problem.message);
    expect(fit.value.cautions[0]).toMatch(/^The ground track asks for (1\.0[45]|0\.95)\d times the airspeed recorded/);
    expect(Object.keys(fit.value)[0]).toBe('cautions');
    expect(fit.value.bestGlideRatio.text).toBe('not to be told from the handbook while the airspeed is in doubt');
    for (const name of [
      'bestGlideRatio',
      'bestGlideKcas',
      'dragZeroLift',
      'inducedFactor',
      'propellerSinkFactor',
      'sinkAtBestGlideFpm',
    ] as const)
      expect(fit.value[name].verdict, name).toBe('unclear');
  },
);

test('a wind of the scenario that was not flown in leaves the verdicts open; one that spoils the fit is named in the refusal', () => {
  const flight = { weather: { ...FRESH_WIND, winds: [{ heightFt: 33, fromTrueDeg: 255, speedKt: 8 }] }, startFt: 1200 };
  const told = (speedKt: number) => ({ ...FRESH_WIND, winds: [{ heightFt: 33, fromTrueDeg: 90, speedKt }] });
  const mild = fitted({ ...flight, toldWeather: told(3) });
  expect(mild.bestGlideRatio.verdict).toBe('unclear');
  expect(mild.cautions[0]).toMatch(
    /^The ground track tells of a wind of 1\d kt from 255° .* has 5 kt from 090°: .*\.$/,
  );
  const low = { startFt: 500, lastsS: 30, holds: TURNING };
  const spoilt = glideRecording({ flown: TURNSTONE, ...flight, ...low, toldWeather: told(60) });
  expect(refused(spoilt).message).toMatch(
    /^samples must be of a glide .*: the ground track tells of a wind of 11 kt from 255° .* has 82 kt from 090°: .* fit with wind: 'estimated'$/,
  );
  expect(fitGlide(spoilt, { wind: 'estimated' }).ok).toBe(true);
});

test('one speed does not tell induced drag: it is held, said, and the sink at that speed still fitted', () => {
  const fit = fitted({ holds: ONE_SPEED, noise: USUAL_NOISE });
  expect(fit.inducedFactor).toMatchObject({
    verdict: 'held',
    standardError: null,
    interval95: null,
    differencePercent: 0,
  });
  expect(fit.held.join()).toContain('Induced drag (K) is the handbook');
  within(fit.propellerSinkFactor.value, 1, 0.02);
});

test('best glide and polar keep to the identities of the parabolic polar', () => {
  // Anderson, Introduction to Flight: E = 1/(2√(CD0·K)) at CL = √(CD0/K), which is the lift carried at best-glide speed.
  const fit = fitted({ noise: USUAL_NOISE });
  const { value: zero } = fit.dragZeroLift;
  const { value: induced } = fit.inducedFactor;
  expect(fit.bestGlideRatio.value).toBeCloseTo(1 / (2 * Math.sqrt(zero * induced)), 9);
  const dynamicPa = 0.5 * 1.225 * ((fit.bestGlideKcas.value * 1852) / 3600) ** 2;
  const lift = (TURNSTONE.massKg * 9.80665) / (dynamicPa * TURNSTONE.wingAreaM2);
  within(lift, Math.sqrt(zero / induced), 1e-5);
});

test('rough air widens the intervals, and more of the glide narrows them', () => {
  const error = (glide: Partial<GlideFlown>) =>
    fitted({ noise: USUAL_NOISE, startFt: 6000, ...glide }).propellerSinkFactor.standardError ?? Number.NaN;
  const shuttle = Array.from({ length: 12 }, (_, i) => ({ fromS: 30 * i, kcas: i % 2 === 0 ? 105 : 80, bankDeg: 0 }));
  const smooth = error({ lastsS: 90 });
  expect(error({ lastsS: 90, gustsOfKt: 8 })).toBeGreaterThan(3 * smooth);
  expect(error({ lastsS: 300, holds: shuttle })).toBeLessThan(smooth);
});

test('a glide that no total failure began is fitted, with a caution about the propeller', () => {
  const recording = glideRecording({ flown: TURNSTONE, holds: THREE_SPEEDS });
  const fit = fitGlide({
    ...recording,
    header: { ...recording.header, drawn: { ...recording.header.drawn, kind: 'none' } },
  });
  expect(fit.ok && fit.value.cautions.join()).toContain('drew no total failure');
});

test('the stretch asked for is the stretch used', () => {
  const fit = fitted({}, { fromS: 20, toS: 75 });
  for (const { fromS, toS } of fit.segments) {
    expect(fromS).toBeGreaterThanOrEqual(20);
    expect(toS).toBeLessThanOrEqual(75);
  }
});

test('gear down all the way: its drag is taken off, and said', () => {
  const recording = glideRecording({
    flown: { ...TURNSTONE, gearDragCoefficient: 0 }, // flies as with gear down
    file: { ...TURNSTONE, gearDragCoefficient: 0.004 },
    holds: THREE_SPEEDS,
  });
  const fit = fitGlide({ ...recording, samples: recording.samples.map((sample) => ({ ...sample, gearFraction: 1 })) });
  if (!fit.ok) throw new Error(fit.problem.message);
  expect(fit.value.held.join()).toContain('0.004');
  expect(fit.value.dragZeroLift.expected - fit.value.dragZeroLift.value).toBeCloseTo(0.004, 4);
});

test('without a power channel the events tell of the failure, and without both only a range does', () => {
  const event = { kind: 'event', timeS: 10, code: 'fail-commanded', text: 'The engine was told to fail.' } as const;
  const without: (keyof Sample)[] = ['powerFraction'];
  const byEvent = fitted({ without, events: [event] });
  expect(byEvent.segments[0]?.fromS).toBeGreaterThanOrEqual(13);
  expect(byEvent.cautions.join()).toContain('The power is not recorded');
  const silent = glideRecording({ flown: TURNSTONE, holds: THREE_SPEEDS, without });
  expect(refused(silent)).toEqual({
    field: 'samples',
    message:
      'samples must tell that the engine is dead (powerFraction, or the event of a total failure), or fromS must say where the glide begins; got 0 s of glide',
  });
  expect(fitGlide(silent, { fromS: 10 }).ok).toBe(true);
});

test('a flight with power, a short glide and nothing at all are refused in a sentence', () => {
  const recording = glideRecording({ flown: TURNSTONE, holds: THREE_SPEEDS });
  const change = (samples: readonly Sample[]): Recording => ({ ...recording, samples });
  expect(refused(change(recording.samples.map((sample) => ({ ...sample, powerFraction: 0.6 })))).message).toMatch(
    /^samples must hold 20 s or more of glide with a dead engine, got 0 s; samples left out: \d+ with power/,
  );
  expect(refused(change(recording.samples.slice(0, 400))).message).toMatch(/must hold 20 s or more .* got 1\d s/);
  expect(refused(change([])).message).toBe('samples must hold a glide, got none');
  expect(refused(change(recording.samples.filter((_, i) => i % 28 === 0))).message).toMatch(
    /^samples must come twice a second or more, got 0\.\d a second$/,
  );
});

test.each<[FitOptions, string, RegExp]>([
  [{ fromS: -5 }, 'fromS', /^fromS must be 0\.0 to 9\d\.\d s, as the recording, got -5$/],
  [{ toS: Number.NaN }, 'toS', /^toS must be .* got NaN$/],
  [{ fromS: 50, toS: 40 }, 'toS', /^toS must be after fromS \(50 s\), got 40$/],
  [{ wind: 'guessed' as 'known' }, 'wind', /^wind must be known or estimated, got "guessed"$/],
])('options %j are refused naming %s', (options, field, sentence) => {
  const problem = refused(glideRecording({ flown: TURNSTONE, holds: THREE_SPEEDS, lastsS: 90.1 }), options);
  expect(problem.field).toBe(field);
  expect(problem.message).toMatch(sentence);
});
