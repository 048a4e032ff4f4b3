// A moment taken from a recording is the state that was flown, or a reason why there is none.
import { expect, test } from 'vitest';
import { flownRecording } from './flown.fixture.js';
import { recordedMoment } from './recordedMoment.js';
import { shelfBundle } from './shelf.fixture.js';

const bundle = shelfBundle('first-turn-back');
const recording = flownRecording(bundle, 1000, {});

test('without a time it is where the power fell, in the climb that was flown', () => {
  const found = recordedMoment(recording);
  if (!found.ok) throw new Error(found.why);
  const { start, request, timeS } = found.moment;
  const { technique } = bundle.scenario;
  expect(Math.abs(start.heightFt - 1000)).toBeLessThan(30);
  expect(Math.abs(start.bankDeg)).toBeLessThan(3);
  expect(start.verticalSpeedFpm).toBeGreaterThan(500);
  expect(start.powerFraction).toBeGreaterThan(0.9);
  expect(request).toMatchObject({ aircraft: bundle.aircraft, weather: bundle.weather, technique });
  expect(request.failure.heightFt).toBe(Math.round(start.heightFt));
  expect(recording.samples.some((sample) => Math.abs(sample.timeS - timeS) < 0.5)).toBe(true);
});

test('with a time it is the sample flown then', () => {
  const sample = recording.samples.find(({ heightFt = 0 }) => heightFt > 600);
  if (sample === undefined) throw new Error('no sample above 600 ft');
  const found = recordedMoment(recording, sample.timeS);
  if (!found.ok) throw new Error(found.why);
  const { start, timeS } = found.moment;
  expect(timeS).toBe(sample.timeS);
  expect(start.heightFt).toBeCloseTo(sample.heightFt ?? Number.NaN, 3);
  expect(start.headingTrueDeg).toBeCloseTo(sample.headingDeg, 0);
});

test.each([
  ['before the recording', recording, -5, /the recording runs from .* s to .* s, got -5 s/],
  ['no number', recording, Number.NaN, /got NaN s/],
  ['on the ground', recording, recording.samples.at(-1)?.timeS, /the aeroplane is on the ground/],
  ['no samples', { ...recording, samples: [] }, undefined, /holds no samples/],
  ['no loss of power', { ...recording, samples: recording.samples.slice(0, 200) }, undefined, /no loss of power/],
])('%s: it says why there is none', (_, asked, atS, sentence) => {
  const found = recordedMoment(asked, atS);
  expect(found.ok ? '' : found.why).toMatch(sentence);
});
