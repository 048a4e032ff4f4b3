// A simulator that did not obey: nobody's levelling-off, landing or throttle is scored as a loss of power.
import type { RecordedEvent, Recording, Sample, Score } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { debriefText } from './debriefText.js';
import { flightOf } from './flight.js';
import { momentsOf } from './moments.js';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';
import { syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const LEVEL_FT = 1313;
const LEVELS_OFF_S = 80;
const END_S = 120;

const event = (timeS: number, code: RecordedEvent['code'], figures: Record<string, number> = {}): RecordedEvent => ({
  kind: 'event',
  timeS,
  code,
  text: code,
  figures,
});
const NOT_OBEYED = [event(53, 'fail-commanded'), event(69, 'not-obeyed')];

/** It climbs at full power, levels off at 1,313 ft and flies on straight to the end of the recording. */
function levelFlight(engine: Partial<Sample>, events: RecordedEvent[], alter = (sample: Sample) => sample): Recording {
  const { recording } = syntheticRecording(bundle, { failAtFt: LEVEL_FT, delayS: 60 });
  const top = recording.samples.find(({ heightFt = 0 }) => heightFt >= LEVEL_FT - 25) as Sample;
  const samples = recording.samples
    .filter(({ timeS }) => timeS <= END_S)
    .map((sample): Sample => {
      const { powerFraction: _, engineRpm: __, ...rest } = sample;
      const climbing = sample.timeS < top.timeS;
      const level = {
        heightFt: LEVEL_FT,
        altitudeFt: LEVEL_FT + bundle.runway.elevationFt,
        verticalSpeedFpm: 0,
        indicatedAirspeedKt: 92,
        trueAirspeedKt: 92,
        pitchDeg: 4,
        bankDeg: 0,
        loadFactor: 1,
        onGround: false,
      };
      return alter({ ...rest, ...(climbing ? {} : level), ...engine });
    });
  const text = 'Stopped.';
  return {
    header: { ...recording.header, drawn: { ...recording.header.drawn, heightFt: 900 } },
    samples,
    events,
    end: { kind: 'end', timeS: END_S, reason: 'instructor', text, samples: samples.length },
  };
}
/** What an exercise said that took the end of the climb for the loss. */
const TOLD_ALL_THE_SAME = [
  ...NOT_OBEYED,
  event(LEVELS_OFF_S + 2, 'power-fell', { fallS: LEVELS_OFF_S, heightFt: LEVEL_FT }),
];

function nothingScored(score: Score): void {
  expect(score.failure).toBeNull();
  expect(score.overall).toBeNull();
  expect(score.ledger).toBeNull();
  expect(Object.values(score.criteria).map((criterion) => criterion.score)).toEqual([null, null, null, null]);
  // The limits shown are those of the turn back that was to be practised, not those of a landing ahead.
  expect(score.criteria.bank.target).toBe(bundle.scenario.technique.bankDeg);
  expect(score.findings.filter(({ code }) => code !== 'data-gap').map(({ code }) => code)).toEqual(['no-failure']);
  expect(score.headline).toMatch(/did not obey/);
  expect(score.headline).toMatch(/nothing can be scored/);
  expect(score.verdict.text).toMatch(/did not obey/);
  expect(score.phases.map(({ name }) => name)).toEqual(['take-off', 'climb']);
  expect(score.events.map(({ code }) => code)).toEqual(['lift-off']);
}

test.each([
  ['engine speed told', { engineRpm: 2500 }, NOT_OBEYED],
  ['power told', { powerFraction: 1 }, NOT_OBEYED],
  ['nothing told of the engine', {}, NOT_OBEYED],
  ['engine speed told, and the levelling-off recorded as a fall', { engineRpm: 2500 }, TOLD_ALL_THE_SAME],
  ['power told, and the levelling-off recorded as a fall', { powerFraction: 1 }, TOLD_ALL_THE_SAME],
  ['nothing told of the engine, and the levelling-off recorded as a fall', {}, TOLD_ALL_THE_SAME],
] as const)('with %s nothing is measured, and the debrief says plainly why', (_, engine, events) => {
  const score = scoreRecording(levelFlight(engine, [...events]));
  nothingScored(score);
  expect(debriefText(score)).not.toMatch(/First action|Height/);
});

test('an engine that runs on by its own channel was not lost, even without the word that it did not obey', () => {
  const events = [event(53, 'fail-commanded'), event(82, 'power-fell', { fallS: LEVELS_OFF_S })];
  const score = scoreRecording(levelFlight({ engineRpm: 2500 }, events));
  expect(score.failure).toBeNull();
  expect(score.findings[0]?.text).toMatch(/^The power was not lost/);
});

test('a throttle set back long after is no loss; one that fell late and was seen to is', () => {
  const back = (atS: number) => (sample: Sample) => (sample.timeS < atS ? sample : { ...sample, engineRpm: 1200 });
  const lossS = (atS: number, events: RecordedEvent[]) =>
    momentsOf(flightOf(levelFlight({ engineRpm: 2500 }, events, back(atS)))).lossS;
  expect(lossS(110, NOT_OBEYED)).toBeNull();
  expect(lossS(110, TOLD_ALL_THE_SAME)).toBeNull();
  expect(lossS(75, [...NOT_OBEYED, event(75.1, 'power-fell', { fallS: 75 })])).toBeCloseTo(75, 1);
});

test('a fall too slow to be sharp is taken from the event that saw it, where the channel shows it', () => {
  // From 2500 to 1800 rpm in 14 s: less than 15 % in any 3 s.
  const slowly = (sample: Sample) => ({
    ...sample,
    engineRpm: 2500 - 50 * Math.max(0, Math.min(14, sample.timeS - 54)),
  });
  const events = [event(53, 'fail-commanded'), event(64.1, 'power-fell', { fallS: 59 })];
  expect(momentsOf(flightOf(levelFlight({}, events, slowly)))).toMatchObject({ lossS: 59, lossChannel: 'event' });
});

test('a fall that energy told beside a governed engine speed counts, and none that comes with the throttle long after', () => {
  const fell = event(77, 'power-fell', { fallS: 75, byEnergy: 1 });
  const back = (sample: Sample) => (sample.timeS < 110 ? sample : { ...sample, engineRpm: 1200 });
  const moments = (events: RecordedEvent[], alter = (sample: Sample) => sample) =>
    momentsOf(flightOf(levelFlight({ engineRpm: 2500 }, events, alter)));
  const commanded = event(74.9, 'fail-commanded');
  expect(moments([commanded, fell])).toMatchObject({ lossS: 75, lossChannel: 'event' });
  expect(moments([commanded, fell], back)).toMatchObject({ lossS: 75, lossChannel: 'event' });
  expect(moments([commanded, event(76, 'not-obeyed'), fell]).lossS).toBeNull();
});

test('a straight flight that ends in the air after a real loss holds no turn', () => {
  const cut = (sample: Sample) => ({ ...sample, powerFraction: sample.timeS < 75 ? 1 : 0 });
  const events = [event(74.9, 'fail-commanded'), event(75.1, 'power-fell', { fallS: 75 })];
  const score = scoreRecording(levelFlight({}, events, cut));
  expect(score.failure?.atS).toBeCloseTo(75, 0);
  expect(score.phases.map(({ name }) => name)).not.toContain('turn');
});
