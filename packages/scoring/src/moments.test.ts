// Moments are found where a constructed or flown recording is known to have them.
import type { Recording, Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { valueAt } from './columns.js';
import { flightOf } from './flight.js';
import { flownRecording } from './flown.fixture.js';
import { type Moments, momentsOf } from './moments.js';
import { shelfBundle } from './shelf.fixture.js';
import { degraded, type Schedule, syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const momentsIn = (recording: Recording) => momentsOf(flightOf(recording));
const without = (recording: Recording, ...keys: (keyof Sample)[]): Recording => ({
  ...recording,
  samples: recording.samples.map((sample) => {
    const copy: Partial<Sample> = { ...sample };
    for (const key of keys) delete copy[key];
    return copy as Sample;
  }),
});
const delayIn = ({ firstActionS, lossS }: Moments) => (firstActionS ?? Number.NaN) - (lossS ?? Number.NaN);
const flown = (id: string, heightFt: number, delayS: number, turn: 'best' | 'ahead') =>
  flownRecording(shelfBundle(id), heightFt, { technique: { delayS, turn } });

const SCHEDULES: Partial<Schedule>[] = [
  {},
  { delayS: 1 },
  { delayS: 5 },
  { bankDeg: 30 },
  { bankDeg: 60 },
  { speedKt: 75 },
  { ahead: true, alongFt: 9000 },
  { ahead: true, delayS: 5, alongFt: 9000 },
];

// 0.15 s, and 15 ft at touchdown (0.1 s at 85 kt), are what the score promises at 20 Hz.
test.each(SCHEDULES)(
  'at 20 Hz every moment of %j is where it was put, clean or with noise and lost samples',
  (schedule) => {
    const { recording, truth } = syntheticRecording(bundle, schedule);
    for (const seed of [0, 1, 2, 3, 4]) {
      const found = momentsIn(seed === 0 ? recording : degraded(recording, seed));
      expect(Math.abs((found.liftOffS ?? 0) - truth.liftOffS), 'lift-off').toBeLessThan(0.11);
      expect(Math.abs((found.lossS ?? 0) - truth.lossS), 'loss').toBeLessThan(0.1);
      expect(Math.abs((found.firstActionS ?? 0) - truth.actionS), 'action').toBeLessThan(0.15);
      expect(Math.abs((found.contactS ?? 0) - truth.contactS), 'contact').toBeLessThan(0.1);
    }
  },
);

test.each([5, 100])('at %d Hz the delay is still found, to about one sample', (rateHz) => {
  for (const delayS of [1, 3, 5]) {
    const { recording } = syntheticRecording(bundle, { rateHz, delayS });
    const bad = degraded(recording, 11);
    const tolerance = rateHz === 5 ? 0.35 : 0.1;
    expect(Math.abs(delayIn(momentsIn(recording)) - delayS)).toBeLessThan(tolerance);
    expect(Math.abs(delayIn(momentsIn(bad)) - delayS)).toBeLessThan(tolerance + 0.2);
  }
});

test.each([
  ['first-turn-back', 900, 1, 'best', 'both'],
  ['first-turn-back', 900, 3, 'best', 'both'],
  ['first-turn-back', 900, 3, 'ahead', 'nose-down'],
  ['first-turn-back', 900, 8, 'ahead', 'nose-held'],
  ['low-and-ahead', 350, 3, 'ahead', 'nose-down'],
  ['low-and-ahead', 350, 5, 'ahead', 'nose-held'],
] as const)(
  '%s at %d ft: the modelled pilot who waits %d s (%s) is measured so: %s',
  (id, heightFt, delayS, turn, control) => {
    const recording = flown(id, heightFt, delayS, turn);
    const clean = momentsIn(recording);
    expect(Math.abs(delayIn(clean) - delayS)).toBeLessThan(0.15);
    expect(clean.control).toBe(control);
    const errors = Array.from({ length: 20 }, (_, i) =>
      Math.abs(delayIn(momentsIn(degraded(recording, i + 1))) - delayS),
    );
    expect(Math.max(...errors)).toBeLessThan(0.6);
    expect(errors.filter((error) => error < 0.15).length).toBeGreaterThanOrEqual(delayS === 5 ? 14 : 18);
  },
);

test('a nose that falls by itself is no action, in still and in rough air, with noise or without', () => {
  for (const gustSeed of [undefined, 3]) {
    const recording = flownRecording(
      bundle,
      900,
      gustSeed === undefined ? { frozen: true } : { frozen: true, gustSeed },
    );
    for (const seed of [0, 7, 14, 21]) {
      const found = momentsIn(seed === 0 ? recording : degraded(recording, seed));
      expect(found.lossS).not.toBeNull();
      expect(found.firstActionS).toBeNull();
    }
  }
});

test('the moments of a turn-back follow each other', () => {
  const m = momentsIn(syntheticRecording(bundle, {}).recording);
  const inOrder = [
    m.liftOffS,
    m.lossS,
    m.firstActionS,
    m.bankEstablishedS,
    m.turn?.turned90S,
    m.turn?.turned180S,
    m.wingsLevelS,
    m.alignBeginsS,
    m.alignedS,
    m.flareS,
    m.contactS,
    m.stoppedS,
  ].map((atS) => atS ?? Number.NaN);
  expect(inOrder.some(Number.isNaN)).toBe(false);
  expect([...inOrder].sort((a, b) => a - b)).toEqual(inOrder);
  expect(m.turn).toMatchObject({ kind: 'return', side: 1 });
  // 45° of bank at 85 kt turns 12.7 degrees/s: 90° take 7.1 s.
  const quarterS = (m.turn?.turned180S ?? 0) - (m.turn?.turned90S ?? 0);
  expect(Math.abs(quarterS - 7.06)).toBeLessThan(0.15);
});

test('the turn is counted across north, and to the left', () => {
  const { recording } = syntheticRecording(bundle, {});
  const mirrored: Recording = {
    ...recording,
    samples: recording.samples.map((sample) => ({
      ...sample,
      bankDeg: -sample.bankDeg,
      headingDeg: (2 * bundle.runway.headingTrueDeg - sample.headingDeg + 720) % 360,
    })),
  };
  const m = momentsIn(mirrored);
  expect(m.turn).toMatchObject({ side: -1, kind: 'return' });
  expect(m.turn?.turned180S).not.toBeNull();
});

test('power lost is read from engine speed, then from the event, then from the command, when the better is missing', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const withRpm = without(recording, 'powerFraction');
  const rpm: Recording = {
    ...withRpm,
    samples: withRpm.samples.map((sample) => ({
      ...sample,
      engineRpm: sample.timeS < truth.lossS ? 2600 : 1300 + 1300 * Math.exp(-(sample.timeS - truth.lossS) / 0.8),
    })),
  };
  expect(momentsIn(rpm).lossChannel).toBe('rpm');
  expect(Math.abs((momentsIn(rpm).lossS ?? 0) - truth.lossS)).toBeLessThan(0.1);
  const event: Recording = {
    ...withRpm,
    events: [...recording.events, { kind: 'event', timeS: truth.lossS + 0.3, code: 'power-fell', text: 'Power fell.' }],
  };
  expect(momentsIn(event)).toMatchObject({ lossChannel: 'event', lossS: truth.lossS + 0.3 });
  // The event comes when the fall is noticed, its figure says when it began.
  const told: Recording = {
    ...withRpm,
    events: [
      ...recording.events,
      {
        kind: 'event',
        timeS: truth.lossS + 1.4,
        code: 'power-fell',
        text: 'Power fell.',
        figures: { fallS: truth.lossS + 0.1 },
      },
    ],
  };
  expect(momentsIn(told)).toMatchObject({ lossChannel: 'event', lossS: truth.lossS + 0.1 });
  // A figure that no fall after the command can have is not believed.
  for (const fallS of [0, truth.lossS + 50]) {
    const events = told.events.map((event) => (event.code === 'power-fell' ? { ...event, figures: { fallS } } : event));
    expect(momentsIn({ ...told, events }).lossS).toBe(truth.lossS + 1.4);
  }
  expect(momentsIn(withRpm)).toMatchObject({ lossChannel: 'command', lossS: truth.lossS - 0.02 });
});

test('a step in the power is placed inside its interval; a throttle set back before the command is no failure', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const stepped: Recording = {
    ...recording,
    samples: recording.samples.map((sample) => ({
      ...sample,
      powerFraction: sample.timeS < 20 ? 1 : sample.timeS < truth.lossS ? 0.75 : 0,
    })),
  };
  expect(Math.abs((momentsIn(stepped).lossS ?? 0) - truth.lossS)).toBeLessThan(0.05);
});

test('no failure drawn, none found; a simulator that did not obey has none either', () => {
  const { recording } = syntheticRecording(bundle, {});
  const healthy = recording.samples.map((sample) => ({ ...sample, powerFraction: 1 }));
  const drawn = { ...recording.header.drawn, kind: 'none' as const, heightFt: null };
  expect(
    momentsIn({ ...recording, header: { ...recording.header, drawn }, samples: healthy, events: [] }).lossS,
  ).toBeNull();
  const disobeyed = {
    ...without(recording, 'powerFraction'),
    events: [
      ...recording.events,
      { kind: 'event' as const, timeS: 70, code: 'not-obeyed' as const, text: 'Did not obey.' },
    ],
  };
  expect(momentsIn(disobeyed).lossS).toBeNull();
  expect(momentsIn({ ...recording, samples: healthy }).lossS).toBeNull();
});

test('acting before the loss is seen as such', () => {
  const { recording, truth } = syntheticRecording(bundle, { delayS: -1.5 });
  for (const seed of [0, 1, 2]) {
    const found = momentsIn(seed === 0 ? recording : degraded(recording, seed));
    expect(found.early).toBe(true);
    expect(Math.abs((found.firstActionS ?? 0) - truth.actionS)).toBeLessThan(0.15);
  }
});

test('contact is found from height alone, and from the recorded event when the samples end in the air', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const byHeight = momentsIn(without(recording, 'onGround'));
  expect(Math.abs((byHeight.contactS ?? 0) - truth.contactS)).toBeLessThan(0.3);
  const cut: Recording = {
    ...recording,
    samples: recording.samples.filter(({ timeS }) => timeS < truth.contactS),
    events: [...recording.events, { kind: 'event', timeS: truth.contactS - 0.01, code: 'contact', text: 'Contact.' }],
  };
  expect(Math.abs((momentsIn(cut).contactS ?? 0) - truth.contactS)).toBeLessThan(0.06);
});

test('where the ground is not level with the runway, the height above the ground tells the contact and nothing else', () => {
  const { recording, truth } = syntheticRecording(bundle, { ahead: true, alongFt: 9000 });
  // Beyond the runway the ground lies 120 ft lower: the glide goes on below the runway's level.
  const GROUND_FT = -120;
  const overLowGround = (heightAbove: boolean): Recording => ({
    ...without(recording, 'onGround', 'heightFt'),
    samples: without(recording, 'onGround', 'heightFt').samples.map((sample) => {
      const before = truth.contactS - sample.timeS;
      const dropFt = before > 40 ? 0 : GROUND_FT * Math.min(1, (40 - before) / 20);
      const runwayFt = sample.altitudeFt - bundle.runway.elevationFt;
      const altitudeFt = sample.altitudeFt + dropFt;
      return heightAbove ? { ...sample, altitudeFt, heightAboveGroundFt: runwayFt } : { ...sample, altitudeFt };
    }),
  });
  const flight = flightOf(overLowGround(true));
  const found = momentsOf(flight);
  expect(Math.abs((found.contactS ?? 0) - truth.contactS)).toBeLessThan(0.3);
  expect(flight.heightFrom).toBe('altitude');
  expect(valueAt(flight.timeS, flight.heightFt, truth.contactS + 1)).toBeCloseTo(GROUND_FT, 6);
  // Without it the contact is taken where the runway's level is passed, seconds too early.
  expect(momentsIn(overLowGround(false)).contactS).toBeLessThan(truth.contactS - 1);
});

test('a bounce has a first and a last contact', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const bounced: Recording = {
    ...recording,
    samples: recording.samples.map((sample) => {
      const after = sample.timeS - truth.contactS;
      return after > 0.5 && after < 2
        ? { ...sample, onGround: false, heightFt: 3 * Math.sin(((after - 0.5) / 1.5) * Math.PI) }
        : sample;
    }),
  };
  const found = momentsIn(bounced);
  expect(Math.abs((found.contactS ?? 0) - truth.contactS)).toBeLessThan(0.06);
  expect(Math.abs((found.lastContactS ?? 0) - truth.contactS - 2)).toBeLessThan(0.1);
});

test('samples that came late, twice or after a reset do not change what is found', () => {
  const { recording } = syntheticRecording(bundle, {});
  const shuffled = [...recording.samples];
  for (let i = 10; i + 3 < shuffled.length; i += 40) {
    const [late] = shuffled.splice(i, 1);
    shuffled.splice(i + 3, 0, late as Sample, late as Sample);
  }
  const again = recording.samples.slice(0, 200);
  expect(momentsIn({ ...recording, samples: [...shuffled, ...again] })).toEqual(momentsIn(recording));
});

test('with the power restored the attempt is over: a landing later on is not its touchdown', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const restoredS = truth.actionS + 12;
  const found = momentsIn({
    ...recording,
    events: [...recording.events, { kind: 'event', timeS: restoredS, code: 'restored', text: 'Power is back.' }],
  });
  expect(found).toMatchObject({ contactS: null, endS: restoredS });
  expect(found.bankEstablishedS).not.toBeNull();
});
