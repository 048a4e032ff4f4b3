// Whole attempts flown in a closed loop: where the power falls, what is sent, what is recorded, how it ends.
import type { Sample } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { fly, setupOf, totalAt } from './flight.fixture.js';

/** The power may fall this far from the drawn height: half a sample's climb at 5 Hz is 2.2 ft, and latency adds its error. */
const NEAR_FT = 4;

test('an engine channel with a hole in it is still what tells the fall, and nothing else does', () => {
  const holes = (sample: Sample) => {
    const copy = { ...sample };
    if (Math.round(sample.timeS * 20) % 3 !== 0) delete copy.engineRpm;
    return copy;
  };
  const { trial, powerFellAt } = fly(setupOf(), { without: ['powerFraction'], onTheWay: holes });
  expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
  expect(Math.abs((trial.event('power-fell')?.figures?.fallS ?? 0) - (powerFellAt?.atS ?? 0))).toBeLessThan(0.16);
  const deaf = fly(setupOf(), { obeys: false, without: ['powerFraction'], onTheWay: holes, forS: 90 }).trial;
  expect(deaf.codes).not.toContain('power-fell');
});

describe('a failure at 900 ft', () => {
  const setup = setupOf({ drawn: totalAt(900) });
  test.each([
    ['at 20 samples a second', {}],
    ['at 5 samples a second', { rateHz: 5 }],
    ['at 100 samples a second', { rateHz: 100 }],
    ['with 5 % of the datagrams lost', { lossShare: 0.05 }],
    ['at 20 times real time', { pace: 20, latencyS: 0.2 }],
    ['at 20 times real time with losses', { pace: 20, latencyS: 0.2, lossShare: 0.05 }],
    ['without a height channel', { without: ['heightFt'] as const }],
    ['without an on-ground channel', { without: ['onGround'] as const }],
    ['without power, by engine speed', { without: ['powerFraction'] as const }],
    [
      'with nothing but the required channels',
      { without: ['heightFt', 'onGround', 'powerFraction', 'engineRpm', 'groundspeedKt'] as const },
    ],
  ])('%s', (_, options) => {
    const { trial, powerFellAt } = fly(setup, options);
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
    expect(Math.abs((powerFellAt?.heightFt ?? 0) - 900)).toBeLessThan(NEAR_FT);
    expect(trial.codes).toEqual(['armed', 'lift-off', 'fail-commanded', 'power-fell', 'contact', 'closed']);
    expect(trial.closeReason).toBe('stopped');
    const figures = trial.event('power-fell')?.figures;
    expect(figures?.plannedHeightFt).toBe(900);
    expect(Math.abs((figures?.heightFt ?? 0) - (powerFellAt?.heightFt ?? 0))).toBeLessThan(NEAR_FT);
  });
});

describe('latency', () => {
  test('is measured from the fall, within half a sample', () => {
    const { trial } = fly(setupOf(), { latencyS: 0.4, rateHz: 20 });
    expect(trial.event('power-fell')?.figures?.latencyS).toBeCloseTo(0.4, 1);
    expect(trial.state.fall?.latencyS).toBe(trial.event('power-fell')?.figures?.latencyS);
  });
  test('as measured before brings the next failure to its height', () => {
    const slow = { latencyS: 1.2 };
    const unaware = fly(setupOf(), slow).powerFellAt?.heightFt ?? 0;
    const aware = fly(setupOf({ measuredLatency: { latencyS: 1.2, pace: 1 } }), slow).powerFellAt?.heightFt ?? 0;
    expect(unaware).toBeGreaterThan(1000 + NEAR_FT); // 1.15 s at 1,300 ft/min is 25 ft
    expect(Math.abs(aware - 1000)).toBeLessThan(NEAR_FT);
  });
  test('measured at another pace of time is not used', () => {
    const { powerFellAt } = fly(setupOf({ measuredLatency: { latencyS: 1.2, pace: 20 } }));
    expect(Math.abs((powerFellAt?.heightFt ?? 0) - 1000)).toBeLessThan(NEAR_FT);
  });
  test('is not invented where only climb and speed show the fall', () => {
    const { trial } = fly(setupOf(), { without: ['powerFraction', 'engineRpm'] });
    expect(trial.event('power-fell')?.figures).not.toHaveProperty('latencyS');
  });
});

describe('a simulator that does not obey', () => {
  test.each([
    ['with power told', {}],
    ['without engine channels', { without: ['powerFraction', 'engineRpm'] as const }],
  ])('%s gets three repeats and is then named', (_, options) => {
    const { trial } = fly(setupOf(), { obeys: false, ...options });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire', 'repeat', 'repeat', 'repeat']);
    expect(trial.codes.filter((code) => code === 'not-obeyed')).toHaveLength(1);
    expect(trial.state.fall).toBeNull();
  });
  // It climbs on and levels off, as a pilot does who waits for a failure: climb and energy end without any loss of power.
  const levelsOff = (change: Partial<Sample>) => (sample: Sample) =>
    (sample.heightFt ?? 0) < 1313
      ? { ...sample, ...change }
      : { ...sample, heightFt: 1313, altitudeFt: 312 + 1313, verticalSpeedFpm: 0, ...change };
  test.each([
    [
      'engine speed stays at 2500 rpm',
      { without: ['powerFraction'] as const, onTheWay: levelsOff({ engineRpm: 2500 }) },
    ],
    ['power stays at its whole', { onTheWay: levelsOff({ powerFraction: 1 }) }],
    ['nothing tells of the engine', { without: ['powerFraction', 'engineRpm'] as const, onTheWay: levelsOff({}) }],
  ])('and levels off has no loss of power where %s', (_, options) => {
    const { trial } = fly(setupOf({ drawn: totalAt(900) }), { obeys: false, forS: 120, ...options });
    expect(trial.codes).toContain('not-obeyed');
    expect(trial.codes).not.toContain('power-fell');
    expect(trial.state.fall).toBeNull();
    expect(trial.state.name).toBe('disobeyed');
  });
  test.each(['powerFraction', 'engineRpm'] as const)('and obeys late after all is seen by %s', (channel) => {
    const other = channel === 'engineRpm' ? 'powerFraction' : 'engineRpm';
    const late = (sample: Sample) => (sample.timeS < 90 ? sample : { ...sample, [channel]: 0 });
    const { trial } = fly(setupOf(), { obeys: false, forS: 100, without: [other], onTheWay: late });
    expect(trial.codes.slice(-2)).toEqual(['not-obeyed', 'power-fell']);
    expect(trial.state.fall?.atS).toBeCloseTo(90, 1);
  });
  test('has no loss of power when the pilot throttles back for the landing', () => {
    const back = (sample: Sample) => (sample.timeS < 130 ? sample : { ...sample, powerFraction: 0.1 });
    const { trial } = fly(setupOf(), { obeys: false, forS: 140, onTheWay: back });
    expect(trial.codes).toContain('not-obeyed');
    expect(trial.codes).not.toContain('power-fell');
  });
  test('leaves the area in the end', () => {
    const { trial } = fly(setupOf(), { obeys: false, forS: 800 });
    expect(trial.closeReason).toBe('left-area');
    // 6 nm, and 1,500 ft at 3.3 % (7.5 nm), in whole miles.
    expect(trial.state.closed?.text).toBe('The aeroplane is more than 14 nm from the runway.');
  });
});

test('a failure drawn high comes, though the climb to it leads far from the runway', () => {
  const setup = setupOf({ drawn: totalAt(6000) });
  const failure = { ...setup.scenario.failure, highestHeightFt: 6300 };
  // At 92 kt and 1,300 ft/min it is 7.2 nm out by then.
  const { trial } = fly({ ...setup, scenario: { ...setup.scenario, failure } }, { forS: 800 });
  expect(Math.abs((trial.event('power-fell')?.figures?.heightFt ?? 0) - 6000)).toBeLessThan(NEAR_FT);
  expect(trial.closeReason).toBe('stopped');
});

describe('kinds of failure', () => {
  test('partial: power is set, and seen to fall to it', () => {
    const drawn = { kind: 'partial', heightFt: 800, powerFraction: 0.4, propeller: 'coarse' } as const;
    const { trial } = fly(setupOf({ drawn }));
    expect(trial.sends[0]).toMatchObject({ command: 'setPower', powerFraction: 0.4 });
    expect(trial.codes).toContain('power-fell');
  });
  test('surging: power goes up and down until the contact, the same for the same seed', () => {
    const drawn = { kind: 'surging', heightFt: 800, powerFraction: 0.1, propeller: 'coarse' } as const;
    const first = fly(setupOf({ drawn })).trial;
    const surges = first.sends.filter(({ purpose }) => purpose === 'surge').map(({ powerFraction }) => powerFraction);
    expect(surges.length).toBeGreaterThan(4);
    expect(surges.filter((_, index) => index % 2 === 1).every((power) => power === 0.1)).toBe(true);
    expect(surges.filter((_, index) => index % 2 === 0).every((power) => power >= 0.4 && power <= 0.8)).toBe(true);
    expect(fly(setupOf({ drawn })).trial.sends).toEqual(first.sends);
    expect(fly(setupOf({ drawn, seed: 8 })).trial.sends).not.toEqual(first.sends);
  });
  test('none: nothing is sent, and it is told only above the highest height', () => {
    const drawn = { kind: 'none', heightFt: null, powerFraction: 0, propeller: 'coarse' } as const;
    const { trial } = fly(setupOf({ drawn }), { forS: 120 });
    expect(trial.sends).toEqual([]);
    const told = trial.event('no-failure-drawn');
    const at = trial.samples.find((sample) => sample.timeS === told?.timeS);
    expect(at?.heightFt).toBeGreaterThan(1500);
    expect(at?.heightFt).toBeLessThan(1502);
  });
});

describe('the person', () => {
  test('fails the engine by hand in flight', () => {
    const { trial, powerFellAt } = fly(setupOf(), { persons: [{ atS: 40, command: 'fail-now' }] });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
    expect(powerFellAt?.atS).toBeCloseTo(40.05, 1);
    expect(trial.event('power-fell')?.figures).not.toHaveProperty('plannedHeightFt');
  });
  test('cannot fail it on the ground, nor twice', () => {
    const persons = [10, 40, 45].map((atS) => ({ atS, command: 'fail-now' }) as const);
    const { trial } = fly(setupOf(), { persons });
    const answers = trial.actions.flatMap((action) => (action.kind === 'answer' ? [action.ok] : []));
    expect(answers).toEqual([true, false, true, false]); // the first is the arming
    expect(trial.sends).toHaveLength(1);
  });
  test('restores the power, and climbing away ends the attempt', () => {
    const { trial } = fly(setupOf(), { persons: [{ atS: 80, command: 'restore' }] });
    expect(trial.codes.slice(-3)).toEqual(['restored', 'go-around', 'closed']);
    expect(trial.closeReason).toBe('went-around');
  });
  test('stops it at any time, and nothing comes after', () => {
    const { trial } = fly(setupOf(), { persons: [{ atS: 30, command: 'stop' }] });
    expect(trial.closeReason).toBe('instructor');
    const before = trial.actions.length;
    trial.give({ kind: 'tick', nowS: 500 });
    expect(trial.actions).toHaveLength(before);
  });
});

test('a climb first heard of above the drawn height fires with the sample after, never with the one that tells of the lift-off', () => {
  const setup = setupOf({ drawn: totalAt(300) });
  const lostBelowFt = 320;
  const { trial } = fly(setup, {
    pace: 20, // so that the data are missed for less than a second of wall time, and still count as fresh
    onTheWay: (sample) =>
      sample.onGround !== true && (sample.heightFt ?? 0) < lostBelowFt && sample.verticalSpeedFpm > 0 ? null : sample,
  });
  const [liftOff, fired] = [trial.event('lift-off'), trial.event('fail-commanded')];
  expect(liftOff?.figures?.heightFt).toBeGreaterThan(lostBelowFt - 5);
  expect(fired?.timeS).toBeGreaterThan(liftOff?.timeS ?? Number.POSITIVE_INFINITY);
});

test('the contact tells the sink of the last sample in the air', () => {
  const { trial } = fly(setupOf());
  expect(trial.event('contact')?.figures?.verticalSpeedFpm).toBeCloseTo(-1000, 5);
});

test('the recording holds every sample in order, the take-off roll included', () => {
  const { trial } = fly(setupOf());
  const times = trial.samples.map(({ timeS }) => timeS);
  expect(times[0]).toBe(0);
  expect(times.every((timeS, index) => index === 0 || timeS > (times[index - 1] ?? 0))).toBe(true);
  expect(times.length).toBe(Math.round((times.at(-1) ?? 0) * 20) + 1);
});
