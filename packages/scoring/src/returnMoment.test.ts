// What a return is reckoned from is the state at the loss of power, turning back; or a reason why there is none.
import { AttemptDetail } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { flownRecording } from './flown.fixture.js';
import { recordedMoment } from './recordedMoment.js';
import { returnMoment } from './returnMoment.js';
import { shelfBundle } from './shelf.fixture.js';

const bundle = shelfBundle('first-turn-back');
const recording = flownRecording(bundle, 1000, {});
const withHeader = (changes: object) => ({ ...recording, header: { ...recording.header, ...changes } });

test('it is the recorded moment of the loss of power, and stands in the contract as it is', () => {
  const found = returnMoment(recording);
  expect(found).toEqual(recordedMoment(recording));
  expect(found.ok).toBe(true);
  expect(AttemptDetail.shape.returnMoment.parse(JSON.parse(JSON.stringify(found)))).toEqual(found);
});

test('a technique that lands ahead is asked to turn back', () => {
  const { scenario } = recording.header;
  const ahead = { ...scenario, technique: { ...scenario.technique, turn: 'ahead' as const } };
  const found = returnMoment(withHeader({ scenario: ahead }));
  expect(found.ok ? found.moment.request.technique : found.why).toEqual({ ...scenario.technique, turn: 'best' });
});

const { start: _, ...unplaced } = recording.header.runway;

test.each([
  ['no loss of power', { ...recording, samples: recording.samples.slice(0, 200) }, /no loss of power/],
  [
    'a track log without airspeed',
    withHeader({ imported: { format: 'gpx', lossFrom: 'given', unmeasured: ['indicatedAirspeedKt'], notes: [] } }),
    /^the track log does not hold the airspeed$/,
  ],
  ['a runway without a position', withHeader({ runway: unplaced }), /has no position/],
  [
    'a failure below what is flown',
    flownRecording(bundle, 30, {}),
    /^failure\.heightFt must be 50 to 6000 ft.*, got \d+$/,
  ],
])('%s: it says why there is none', (_name, asked, sentence) => {
  const found = returnMoment(asked);
  expect(found.ok ? '' : found.why).toMatch(sentence);
});
