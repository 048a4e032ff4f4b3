// The wind estimated from a flight holds the truth within its stated error, and takes over only where it must.
import type { Recording, Weather } from '@stillprop/contracts';
import { Score } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { attemptOf } from './attempt.js';
import { flownRecording } from './flown.fixture.js';
import { lacking } from './impaired.fixture.js';
import { returnMoment } from './returnMoment.js';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';
import { degraded, noise } from './synthetic.fixture.js';
import { verdictOf } from './verdict.js';
import type { FlownWind, WindAt } from './windFlown.js';

const bundle = shelfBundle('first-turn-back');
const smooth = flownRecording(bundle, 1000, {});

function windIn(recording: Recording): FlownWind {
  const { wind } = attemptOf(recording);
  if (wind === null) throw new Error('there was a flight');
  return wind;
}

/** The same flight, of which the header tells other winds than those it was flown in. */
function told(recording: Recording, winds: Weather['winds']): Recording {
  return { ...recording, header: { ...recording.header, weather: { ...recording.header.weather, winds } } };
}

/** Noise of instruments: airspeed 1 kt, heading 1°, groundspeed 0.5 kt, track 1°, and an airspeed 2 kt too high throughout. */
function withNoise(recording: Recording, seed: number): Recording {
  const normal = noise(seed);
  const samples = recording.samples.map((sample) => ({
    ...sample,
    trueAirspeedKt: (sample.trueAirspeedKt ?? 0) + 2 + normal(),
    headingDeg: (sample.headingDeg + normal() + 360) % 360,
    groundspeedKt: (sample.groundspeedKt ?? 0) + 0.5 * normal(),
    trackDeg: ((sample.trackDeg ?? 0) + normal() + 360) % 360,
  }));
  return { ...recording, samples };
}

function apartKt(a: WindAt, b: WindAt): number {
  const angle = ((a.fromTrueDeg - b.fromTrueDeg) * Math.PI) / 180;
  return Math.sqrt(a.speedKt ** 2 + b.speedKt ** 2 - 2 * a.speedKt * b.speedKt * Math.cos(angle));
}

test('the true wind lies within two standard errors in 90 % of seeds, in smooth air and in gusts, and is not switched', () => {
  const gusty = Array.from({ length: 20 }, (_, i) => flownRecording(bundle, 1000, { gustSeed: i + 1 }, 5));
  const smooth10 = flownRecording(bundle, 1000, {}, 5);
  const errors: number[] = [];
  let inside = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const flown = seed % 2 === 0 ? smooth10 : (gusty[seed >> 1] as Recording);
    const { source, estimate, scenario } = windIn(withNoise(flown, seed));
    if (estimate === null) throw new Error('it turned by more than 90°');
    expect(source).toBe('scenario');
    const offKt = apartKt(estimate, scenario);
    if (offKt <= 2 * estimate.standardErrorKt) inside++;
    errors.push(estimate.standardErrorKt);
  }
  expect(inside / 40).toBeGreaterThanOrEqual(0.9);
  // And it says something: about a knot.
  expect(Math.max(...errors)).toBeLessThan(2.5);
});

test.each([
  ['calm', []],
  ['from the other side', [{ heightFt: 33, fromTrueDeg: 160, speedKt: 10 }]],
  ['twice as strong', [{ heightFt: 33, fromTrueDeg: 255, speedKt: 18 }]],
] as const)('told %s, the wind flown in is found all the same and reckoned with', (_name, winds) => {
  const truth = windIn(smooth).scenario;
  for (const recording of [smooth, withNoise(smooth, 5), degraded(smooth, 3), lacking(smooth, 'trackDeg')]) {
    const { source, estimate, heightFt } = windIn(told(recording, [...winds]));
    expect(source).toBe('estimated');
    expect(apartKt(estimate as WindAt, truth)).toBeLessThan(1);
    expect(heightFt).toBeGreaterThan(400);
  }
});

test('with the wind put right the verdict is that of the true wind, and says what its error means in feet', () => {
  const right = verdictOf(attemptOf(smooth));
  const wrong = told(smooth, [{ heightFt: 33, fromTrueDeg: 75, speedKt: 8 }]);
  const score = scoreRecording(wrong);
  expect(Score.parse(score)).toEqual(score);
  expect(Math.abs((score.verdict.neededFt ?? 0) - (right.neededFt ?? 0))).toBeLessThan(25);
  expect(score.verdict.text).toMatch(
    /^From where the power was lost a return needed \d+ ft, give or take \d0 ft for the wind\. /,
  );
  expect(score.wind).toMatchObject({ source: 'estimated', neededGiveOrTakeFt: 10 });
  const note = score.findings.find(({ code }) => code === 'wind-differs');
  expect(note).toMatchObject({ severity: 'note' });
  expect(note?.text).toMatch(
    /^The recording shows a wind of 13 kt from 26\d° true at \d+ ft, give or take 0\.\d kt, where the scenario has 1\d kt from 75° true: the wind shown is reckoned with\.$/,
  );
  const moment = returnMoment(wrong);
  expect(moment.ok && moment.moment.request.weather.winds).toEqual(windIn(wrong).weather.winds);
});

test('where the wind agrees nothing changes: the scenario’s weather itself is flown', () => {
  const wind = windIn(smooth);
  expect(wind.source).toBe('scenario');
  expect(wind.weather).toBe(smooth.header.weather);
  expect(verdictOf(attemptOf(smooth)).giveOrTakeFt).toBeNull();
});

test('a difference of less than 3 kt, or within what the estimate is sure of, is let be', () => {
  const near = told(
    smooth,
    bundle.weather.winds.map((wind) => ({ ...wind, speedKt: wind.speedKt + 2 })),
  );
  expect(windIn(near)).toMatchObject({ source: 'scenario', weather: near.header.weather });
});

test('straight ahead, with inferred airspeed, or without any, the wind is not estimated', () => {
  const ahead = flownRecording(bundle, 1000, { technique: { turn: 'ahead' } }, 10);
  expect(windIn(told(ahead, []))).toMatchObject({ source: 'scenario', estimate: null });
  const imported = {
    format: 'gpx' as const,
    lossFrom: 'given' as const,
    unmeasured: ['indicatedAirspeedKt' as const],
    notes: [],
  };
  const inferred = { ...smooth, header: { ...smooth.header, imported } };
  expect(windIn(told(inferred, []))).toMatchObject({ source: 'scenario', estimate: null });
  // A heading that has nothing to do with the track is no instrument error.
  const samples = smooth.samples.map((sample) => ({ ...sample, headingDeg: (sample.headingDeg + 120) % 360 }));
  expect(windIn(told({ ...smooth, samples }, []))).toMatchObject({ source: 'scenario', estimate: null });
});
