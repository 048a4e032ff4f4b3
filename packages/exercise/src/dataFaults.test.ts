// Faults of the stream are each named in the recording with their figures, and on the page; nothing is fired on them.
import type { Sample } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { describe as words } from './describe.js';
import { armedTrial, climbSamples, fly, setupOf, type Trial } from './flight.fixture.js';

/** The point lifts off at 20 s and reaches 1,000 ft near 67 s. */
const FAULT_S = 50;
const faultsOf = (trial: Trial) => trial.events.filter(({ code }) => code === 'data-fault');
const named = (trial: Trial, text: RegExp) => faultsOf(trial).filter((event) => text.test(event.text));

/** Flies up to a time, then gives what the test makes of the rest. */
function climbTo(untilS: number): { trial: Trial; rest: Sample[] } {
  const trial = armedTrial();
  const samples = climbSamples(90);
  for (const sample of samples.filter(({ timeS }) => timeS <= untilS)) {
    trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
  }
  return { trial, rest: samples.filter(({ timeS }) => timeS > untilS) };
}

test('a gap is named with its length, and shown for ten seconds', () => {
  const { trial, rest } = climbTo(FAULT_S);
  const [first, ...more] = rest.filter(({ timeS }) => timeS > FAULT_S + 3);
  for (const sample of [first as Sample, ...more.slice(0, 20)]) {
    trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
  }
  expect(named(trial, /^No sample came for 3\.[01] s/)).toHaveLength(1);
  expect(faultsOf(trial)[0]?.figures?.gapS).toBeCloseTo(3.05, 5);
  expect(words(trial.state).text).toContain('Data fault: No sample came for');
  for (const sample of more.slice(20, 260)) trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
  expect(words(trial.state).text).not.toContain('Data fault');
});

test('a pause is named when it begins and when it ends, holds everything back, and does not move the failure', () => {
  const { trial, rest } = climbTo(FAULT_S);
  const still = climbSamples(FAULT_S).at(-1) as Sample;
  for (let wallS = 0; wallS < 20; wallS += 0.05) {
    trial.give({ kind: 'sample', sample: still, receivedS: FAULT_S + wallS });
    trial.give({ kind: 'tick', nowS: FAULT_S + wallS });
  }
  expect(words(trial.state)).toEqual({
    text: 'The simulator is paused: its time stands still.',
    next: 'Let it go on.',
  });
  const refused = trial.give({ kind: 'person', command: 'fail-now', nowS: FAULT_S + 20 });
  expect(refused).toEqual([expect.objectContaining({ kind: 'answer', ok: false })]);
  for (const sample of rest) trial.give({ kind: 'sample', sample, receivedS: 20 + sample.timeS });
  expect(named(trial, /has stood still/)).toHaveLength(1);
  expect(named(trial, /goes on after a pause of 20 s/)).toHaveLength(1);
  expect(trial.codes).not.toContain('link-silent');
  expect(trial.state.intake.faults).toMatchObject({ pause: 1, duplicate: 0, gap: 0 });
  expect(Math.abs((trial.event('fail-commanded')?.figures?.heightFt ?? 0) - 1000)).toBeLessThan(4);
});

test('a doubled stream is named once, and counted', () => {
  const trial = armedTrial();
  for (const sample of climbSamples(30)) {
    for (let copy = 0; copy < 2; copy += 1) trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
  }
  expect(named(trial, /same time as the one before/)).toHaveLength(1);
  expect(trial.state.intake.faults.duplicate).toBe(601);
});

describe('the clock', () => {
  test('that runs 10 s ahead while the aeroplane hardly moved is named, and unsettles the data', () => {
    const { trial, rest } = climbTo(FAULT_S);
    for (const sample of rest.slice(0, 20)) {
      trial.give({ kind: 'sample', sample: { ...sample, timeS: sample.timeS + 10 }, receivedS: sample.timeS });
      if (sample === rest[0]) expect(trial.state.intake.goodInARow).toBe(0);
    }
    expect(named(trial, /went on by 10 s, in which the aeroplane moved only 8 ft/)).toHaveLength(1);
    expect(trial.state.name).toBe('climbing');
  });
  test('that jumps an hour ahead and stays there ends the attempt with that reason', () => {
    const { trial, rest } = climbTo(FAULT_S);
    for (const sample of rest.slice(0, 20)) {
      trial.give({ kind: 'sample', sample: { ...sample, timeS: sample.timeS + 3600 }, receivedS: sample.timeS });
    }
    expect(named(trial, /3,600 s ahead/)[0]?.figures?.stepS).toBeCloseTo(3600.05, 5);
    expect(trial.state.closed).toEqual({ reason: 'simulator-reset', text: "The simulator's time jumped ahead." });
    expect(trial.event('closed')?.figures).toMatchObject({ clock: 1, jump: 0 });
  });
  test('that goes back is told as late samples with how far, then ends the attempt', () => {
    const { trial, rest } = climbTo(FAULT_S);
    for (const sample of rest) {
      trial.give({ kind: 'sample', sample: { ...sample, timeS: sample.timeS - 30 }, receivedS: sample.timeS });
    }
    expect(named(trial, /went back by 30 s/)[0]?.figures?.behindS).toBeCloseTo(29.95, 5);
    expect(trial.state.closed).toEqual({ reason: 'simulator-reset', text: "The simulator's time went back." });
  });
});

test('a stretch of old samples played again between new ones is named and left out', () => {
  const { trial, rest } = climbTo(FAULT_S);
  const old = climbSamples(FAULT_S).filter(({ timeS }) => timeS > 30);
  for (const [index, sample] of rest.slice(0, 100).entries()) {
    trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
    trial.give({ kind: 'sample', sample: old[index] as Sample, receivedS: sample.timeS });
  }
  expect(named(trial, /went back by/)).toHaveLength(3);
  expect(trial.state.intake.faults.late).toBe(100);
  expect(trial.state.name).toBe('climbing');
});

test('a place far away is named with the distance', () => {
  const away = (sample: Sample) =>
    Math.abs(sample.timeS - FAULT_S) < 0.01 ? { ...sample, latitudeDeg: sample.latitudeDeg + 0.2 } : sample;
  const { trial } = fly(setupOf(), { onTheWay: away });
  // 0.2 degrees of latitude are 12 nm, 72,900 ft.
  const told = named(trial, /away from the one before/);
  expect(told).toHaveLength(1);
  expect(Math.abs((told[0]?.figures?.movedFt ?? 0) - 72_900)).toBeLessThan(300);
});

describe('values that are no numbers', () => {
  test.each(['altitudeFt', 'verticalSpeedFpm', 'latitudeDeg', 'timeS', 'bankDeg'] as const)(
    'in %s leave the sample out, and name the channel',
    (channel) => {
      const bad = (sample: Sample) =>
        Math.round(sample.timeS * 20) % 10 === 0 && sample.timeS > 30 ? { ...sample, [channel]: Number.NaN } : sample;
      const { trial, powerFellAt } = fly(setupOf(), { onTheWay: bad });
      expect(named(trial, new RegExp(`"${channel}" was not a number`))).toHaveLength(3);
      expect(trial.samples.every((sample) => Number.isFinite(sample[channel]))).toBe(true);
      expect(Math.abs((powerFellAt?.heightFt ?? 0) - 1000)).toBeLessThan(5);
      expect(trial.closeReason).toBe('stopped');
    },
  );
  test('in a channel that need not be there leave only the channel out', () => {
    const bad = (sample: Sample) => ({ ...sample, engineRpm: Number.POSITIVE_INFINITY });
    const { trial } = fly(setupOf(), { onTheWay: bad });
    expect(trial.samples.length).toBeGreaterThan(1000);
    expect(trial.samples.every((sample) => !('engineRpm' in sample))).toBe(true);
    expect(named(trial, /"engineRpm" was not a number \(Infinity\): the channel was left out/)).toHaveLength(3);
  });
});
