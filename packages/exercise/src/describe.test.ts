// The words on the page: they follow the state, and give away nothing.
import type { Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { describe as words } from './describe.js';
import { armedTrial, climbSamples, fly, setupOf, Trial, totalAt } from './flight.fixture.js';

const hidden = setupOf({ drawn: totalAt(987) });
const unknown = {
  ...hidden,
  scenario: {
    ...hidden.scenario,
    failure: { ...hidden.scenario.failure, height: { choose: 'range', lowestFt: 400, highestFt: 1400 } as const },
  },
};

test('words follow the attempt from arming to the end', () => {
  const seen: string[] = [];
  const trial = new Trial(setupOf());
  const note = () => {
    const { text } = words(trial.state);
    if (seen.at(-1) !== text) seen.push(text);
  };
  note();
  trial.give({ kind: 'person', command: 'arm', nowS: 0 });
  note();
  const flown = fly(setupOf()).trial;
  for (const sample of flown.samples) {
    trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
    note();
  }
  expect(seen).toEqual([
    'Nothing is armed.',
    'Armed. No data from the simulator yet.',
    'Armed. On the ground.',
    'Airborne. The failure comes at 1,000 ft.',
    'Failure sent. Waiting for the power to fall.',
    'Engine failed.',
    'On the ground.',
    'Attempt over. The aeroplane is on the ground and has stopped.',
  ]);
});

test('a drawn height stands nowhere in the words before it came', () => {
  const trial = new Trial(unknown);
  trial.give({ kind: 'person', command: 'arm', nowS: 0 });
  for (const sample of fly(unknown, { obeys: false, forS: 60 }).trial.samples) {
    trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
    expect(JSON.stringify(words(trial.state))).not.toContain('987');
  }
  expect(words(trial.state).text).toBe('Airborne. A failure may come.');
});

test('an attempt without a failure reads the same as one that waits for its failure', () => {
  const none = { ...unknown, drawn: { ...unknown.drawn, kind: 'none', heightFt: null } as const };
  const texts = [none, unknown].map((setup) => words(fly(setup, { forS: 45 }).trial.state));
  expect(texts[0]).toEqual(texts[1]);
});

test('a simulator that does not obey is said aloud', () => {
  expect(words(fly(setupOf(), { obeys: false, forS: 90 }).trial.state).text).toMatch(/did not obey/);
});

const standing = (change: Partial<Sample>, setup = setupOf()) => {
  const trial = armedTrial(setup);
  for (const sample of climbSamples(5)) {
    trial.give({ kind: 'sample', sample: { ...sample, ...change }, receivedS: sample.timeS });
  }
  return words(trial.state);
};
const noHeight = (altitudeFt: number) => ({ altitudeFt, heightFt: undefined }) as unknown as Partial<Sample>;

test.each([
  [
    'an altitude in another unit',
    noHeight(2633), // the runway lies at 312 ft
    'Armed, but the data say 2,321 ft above the runway.',
    "Check the altitude's unit in the link profile, and the scenario's runway.",
  ],
  [
    'an altitude far below the runway',
    noHeight(-1000),
    'Armed, but the data say 1,312 ft below the runway.',
    "Check the altitude's unit in the link profile, and the scenario's runway.",
  ],
  [
    'a height in another unit',
    { heightFt: 1200 },
    'Armed, but the data say 1,200 ft above the runway.',
    "Check the height's unit in the link profile, and the scenario's runway.",
  ],
  [
    'a groundspeed that no wind explains',
    { groundspeedKt: 250 },
    'Armed, but the data say a groundspeed of 250 kt on the ground, and an airspeed of 0 kt.',
    "Check the groundspeed's and the airspeed's unit in the link profile.",
  ],
])('on the ground with %s, the words say what is wrong and where to look', (_, change, text, next) => {
  const found = standing({ indicatedAirspeedKt: 0, ...change });
  expect(found).toEqual({ text, next });
});

test.each([{}, { heightFt: 45 }, { groundspeedKt: 40, indicatedAirspeedKt: 0 }, noHeight(270)])(
  'with %j on the ground nothing is amiss',
  (change) => {
    expect(standing(change).text).toBe('Armed. On the ground.');
  },
);

test.each([
  [
    { heightFt: 280 },
    "The data told a height of 280 ft on the ground: heights are counted by altitude less the runway's elevation.",
  ],
  [
    noHeight(250),
    'The data told an altitude of 250 ft (the runway lies at 312 ft) on the ground: heights are counted by altitude less what it was on the ground.',
  ],
])('with %j on the ground the page says what heights are counted from', (change, text) => {
  expect(standing(change)).toEqual({ text: `Armed. On the ground. ${text}`, next: 'Take off when ready.' });
});
