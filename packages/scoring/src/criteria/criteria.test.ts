// Each criterion measures what a constructed recording was given, and says "not measured" when it cannot.
import type { Recording, Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { attemptOf } from '../attempt.js';
import { valueAt } from '../columns.js';
import { headerOf, shelfBundle } from '../shelf.fixture.js';
import { degraded, syntheticRecording } from '../synthetic.fixture.js';
import { airspeedCriterion } from './airspeed.js';
import { bankCriterion } from './bank.js';
import { delayCriterion } from './delay.js';
import { marks } from './marks.js';
import { touchdownCriterion } from './touchdown.js';

const bundle = shelfBundle('first-turn-back');
const make = (changes: Parameters<typeof syntheticRecording>[1]) => syntheticRecording(bundle, changes).recording;
const strip = (recording: Recording, ...keys: (keyof Sample)[]): Recording => ({
  ...recording,
  samples: recording.samples.map(
    (sample) =>
      Object.fromEntries(Object.entries(sample).filter(([key]) => !keys.includes(key as keyof Sample))) as Sample,
  ),
});

test('marks are full to the limit, none from the other, linear between', () => {
  expect([0, 3, 5.5, 8, 20].map((excess) => marks(excess, 3, 8))).toEqual([100, 100, 50, 0, 0]);
});

// The rubric: full to 3 s, none from 8 s, so 5 s are worth 60.
test.each([
  [2, 100],
  [5, 60],
])('a delay of %d s is worth %d', (delayS, score) => {
  const found = delayCriterion(attemptOf(make({ delayS })));
  expect(Math.abs((found.measured ?? 0) - delayS)).toBeLessThan(0.15);
  expect(Math.abs((found.score ?? 0) - score)).toBeLessThan(3);
  expect(found.text).toMatch(
    /^First action \d\.\d s after the power was lost \(nose down and bank together|^First action \d\.\d s after the power was lost \(bank into the turn/,
  );
});

test('an action before the loss earns no marks for delay, and loses none', () => {
  expect(delayCriterion(attemptOf(make({ delayS: -1.5 })))).toMatchObject({ score: null, measured: null });
});

// Rubric: 45° asked, full within 5, none at 25 under or 20 over.
test.each([
  [45, 100],
  [35, 75],
  [30, 50],
  [55, 67],
])('a bank of %d° is measured within 1° and worth about %d', (bankDeg, score) => {
  for (const seed of [0, 3]) {
    const recording = make({ bankDeg, speedKt: 95 });
    const found = bankCriterion(attemptOf(seed === 0 ? recording : degraded(recording, seed)));
    expect(Math.abs((found.measured ?? 0) - bankDeg)).toBeLessThan(1);
    expect(Math.abs((found.score ?? 0) - score)).toBeLessThan(5);
  }
});

test('ten degrees too many cost more than ten too few', () => {
  const over = bankCriterion(attemptOf(make({ bankDeg: 55 }))).score ?? 0;
  const under = bankCriterion(attemptOf(make({ bankDeg: 35 }))).score ?? 0;
  expect(over).toBeLessThan(under);
});

/** The bank from a time on rolls steeper at 60 degrees/s, up to a bank, and stays there until another time. */
const steepened = (recording: Recording, fromS: number, toS: number, toDeg: number): Recording => ({
  ...recording,
  samples: recording.samples.map((sample) => {
    const after = sample.timeS - fromS;
    if (after < 0 || sample.timeS > toS) return sample;
    return { ...sample, bankDeg: Math.min(toDeg, sample.bankDeg + 60 * after) };
  }),
});

test('a good turn does not hide that it ended near the vertical, whether the bank then comes back or not', () => {
  const recording = make({});
  const { bankEstablishedS, bankEndsS } = attemptOf(recording).moments;
  const [fromS, toS] = [bankEstablishedS ?? 0, bankEndsS ?? 0];
  expect(toS - fromS).toBeGreaterThan(9);
  // The last two seconds of the turn at up to 88°: 43° over the bank asked, where 20° has no marks.
  const late = bankCriterion(attemptOf(steepened(recording, toS - 2, toS, 88)));
  expect(late.score).toBeLessThan(30);
  expect(late.text).toContain('The most was 8');
  // Rolled on past the vertical and never level again: the turn lasts to the ground.
  const over = attemptOf(steepened(recording, toS - 2, Number.POSITIVE_INFINITY, 150));
  expect(over.moments.bankEndsS).toBeGreaterThan((over.moments.contactS ?? 0) - 1);
  expect(bankCriterion(over).score).toBe(0);
  // Ten degrees too many for a second is no such thing.
  const gust = bankCriterion(attemptOf(steepened(recording, toS - 3, toS - 2, 55)));
  expect(gust.score).toBeGreaterThan(75);
});

test('the same excess for the same time costs more over the bank than under it', () => {
  const recording = make({});
  const fromS = (attemptOf(recording).moments.bankEstablishedS ?? 0) + 3;
  const offBy = (deg: number) =>
    bankCriterion(
      attemptOf({
        ...recording,
        samples: recording.samples.map((sample) =>
          sample.timeS > fromS && sample.timeS < fromS + 3 ? { ...sample, bankDeg: sample.bankDeg + deg } : sample,
        ),
      }),
    ).score ?? Number.NaN;
  expect(offBy(15)).toBeLessThan(offBy(-15) - 10);
  expect(offBy(40)).toBeLessThan(offBy(20) - 20);
});

test.each([78, 85, 99])('a speed of %d kt is measured within 1 kt', (speedKt) => {
  for (const seed of [0, 5]) {
    const recording = make({ speedKt, bankDeg: 20 });
    const found = airspeedCriterion(attemptOf(seed === 0 ? recording : degraded(recording, seed)));
    expect(Math.abs((found.measured ?? 0) - speedKt)).toBeLessThan(1);
  }
});

// Level turn: n = 1/cos 45° = 1.414, stall 64 kt·√1.414 = 76.1 kt, margin 85/76.1 = 1.12 (closed form).
test('the stall margin is that of the load factor recorded, or estimated from bank and path, which is said', () => {
  const recording = make({});
  const recorded = airspeedCriterion(attemptOf(recording));
  expect(recorded.details.leastStallMargin).toBeCloseTo(1.12, 1);
  expect(recorded.text).not.toContain('estimated');
  const estimated = airspeedCriterion(attemptOf(strip(recording, 'loadFactor')));
  expect(Math.abs((estimated.details.leastStallMargin ?? 0) - (recorded.details.leastStallMargin ?? 0))).toBeLessThan(
    0.04,
  );
  expect(estimated.text).toContain('load factor estimated');
});

test('flying at the stall leaves no marks for airspeed, however well the speed is held', () => {
  const found = airspeedCriterion(attemptOf(make({ bankDeg: 60 })));
  expect(found.details.leastStallMargin).toBeLessThan(1);
  expect(found).toMatchObject({ score: 0, details: { speedMarks: 100, marginMarks: 0 } });
});

// After a turn-back the threshold is the far end, 4,600 ft along, and the aim point 500 ft inside it: at 4,100 ft.
test.each([
  [4000, 100, 'beyond the aim point'],
  [4350, -250, 'short of the aim point'],
  [2000, 2100, 'beyond the aim point'],
])('touching down at %d ft along is %d ft from the aim point of the end landed on', (alongFt, fromAimFt, words) => {
  const found = touchdownCriterion(attemptOf(make({ alongFt })));
  expect(Math.abs((found.measured ?? 0) - fromAimFt)).toBeLessThan(15);
  expect(found.details.alongFt).toBeCloseTo(alongFt, -1.5);
  expect(found.text).toContain(words);
});

test('short costs more than long, off the centreline costs, off the runway the place earns nothing', () => {
  const score = (changes: Parameters<typeof syntheticRecording>[1]) =>
    touchdownCriterion(attemptOf(make(changes))).score ?? Number.NaN;
  expect(score({ alongFt: 3900 })).toBe(100);
  expect(score({ alongFt: 4300 })).toBeLessThan(score({ alongFt: 3300 }));
  expect(score({ acrossFt: 35 })).toBeLessThan(100);
  expect(score({ acrossFt: 200 })).toBeCloseTo(30, 0);
  expect(score({ sinkFpm: 600 })).toBeLessThan(90);
});

test('right of the centreline is said as the pilot saw it', () => {
  expect(touchdownCriterion(attemptOf(make({ acrossFt: 30 }))).text).toContain('30 ft left of the centreline');
});

test('landing ahead is marked by wings, sink and speed, and the runway point does not count', () => {
  const attempt = attemptOf(make({ ahead: true, alongFt: 9000, speedKt: 75 }));
  expect(bankCriterion(attempt).score).toBeCloseTo(100, 6);
  expect(bankCriterion(attempt).target).toBe(30);
  const found = touchdownCriterion(attempt);
  expect(found.unit).toBe('ft/min');
  expect(found.score).toBeGreaterThan(95);
  const wingLow = touchdownCriterion(attemptOf(make({ ahead: true, alongFt: 9000, speedKt: 75, contactBankDeg: 14 })));
  expect(wingLow.score).toBeLessThan((found.score ?? 0) - 15);
});

test('without a runway position there is no touchdown score, but everything else is still measured', () => {
  const { start: _, ...runway } = bundle.runway;
  const recording = make({});
  const unplaced = { ...recording, header: { ...headerOf({ ...bundle, runway }), drawn: recording.header.drawn } };
  const attempt = attemptOf(unplaced);
  expect(touchdownCriterion(attempt)).toMatchObject({ score: null, measured: null });
  for (const criterion of [delayCriterion, bankCriterion, airspeedCriterion])
    expect(criterion(attempt).score).not.toBeNull();
});

test('over a floor there is no touchdown, and heights count from the floor', () => {
  const { recording, truth } = syntheticRecording(bundle, {});
  const scenario = { ...bundle.scenario, practice: { from: 'floor' as const, floorAltitudeFt: 3000 } };
  const lifted = recording.samples
    .filter(({ timeS }) => timeS > 15)
    .map(
      (sample) =>
        ({
          ...strip({ ...recording, samples: [sample] }, 'heightFt', 'onGround').samples[0],
          altitudeFt: sample.altitudeFt + 2600,
        }) as Sample,
    );
  const attempt = attemptOf({ ...recording, header: { ...recording.header, scenario }, samples: lifted });
  expect(attempt.flight.heightFrom).toBe('altitude above the floor');
  // The ground, at 312 ft, was lifted to 2,912 ft: the floor is met 88 ft above it, seconds before the touchdown.
  expect(attempt.moments.contactS).toBeLessThan(truth.contactS - 3);
  expect(valueAt(attempt.flight.timeS, attempt.flight.heightFt, attempt.moments.contactS ?? 0)).toBeCloseTo(0, 0);
  expect(touchdownCriterion(attempt).score).toBeNull();
  expect(bankCriterion(attempt).measured).toBeCloseTo(45, 0);
});
