// Bad data, silence and restarts: nothing is fired on them, they are told in bounds, and the attempt ends with a reason.
import type { Sample } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { armedTrial, climbSamples, fly, setupOf, totalAt } from './flight.fixture.js';

const between = (sample: Sample, fromS: number, toS: number) => sample.timeS >= fromS && sample.timeS < toS;
// The point lifts off at 20 s and reaches 1,000 ft near 67 s.
const DUE_S = 67;

describe('armed in the air', () => {
  test.each([[[] as const], [['onGround'] as const]])(
    'nothing fires without a lift-off seen (without %s)',
    (without) => {
      const { trial } = fly(setupOf(), { startHeightFt: 300, without, forS: 100 });
      expect(trial.sends).toEqual([]);
      expect(trial.codes).not.toContain('lift-off');
    },
  );
});

describe('held back on bad data', () => {
  test('altitude that stands still while vertical speed says climb', () => {
    const frozen = (sample: Sample) =>
      sample.timeS < 50 ? sample : { ...sample, altitudeFt: 312 + 995, heightFt: 995 };
    const { trial } = fly(setupOf(), { onTheWay: frozen, forS: 120 });
    expect(trial.sends).toEqual([]);
    expect(trial.codes).toContain('data-fault');
  });
  test('altitude that rises far slower than vertical speed says', () => {
    const slow = (sample: Sample) => {
      const heightFt =
        (sample.heightFt ?? 0) > 950 ? 950 + ((sample.heightFt ?? 0) - 950) * 0.2 : (sample.heightFt ?? 0);
      return { ...sample, heightFt, altitudeFt: 312 + heightFt };
    };
    const { trial } = fly(setupOf(), { onTheWay: slow, forS: 120 });
    expect(trial.sends).toEqual([]);
    expect(trial.event('data-fault')?.text).toMatch(/due but held back/);
  });
  test('height and altitude that part', () => {
    const parted = (sample: Sample) =>
      Math.round(sample.timeS * 20) % 2 === 1 ? sample : { ...sample, heightFt: (sample.heightFt ?? 0) + 900 };
    const { trial } = fly(setupOf(), { onTheWay: parted, forS: 120 });
    expect(trial.sends).toEqual([]);
    expect(trial.codes.filter((code) => code === 'data-fault').length).toBeLessThan(10);
    expect(trial.state.intake.faults.disagreement).toBeGreaterThan(1000);
  });
  test('the first samples after a silence: they may come from a backlog', () => {
    const trial = armedTrial();
    const kept = climbSamples(75);
    const first = kept.filter(({ timeS }) => timeS < DUE_S - 3);
    for (const sample of first) trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
    trial.give({ kind: 'tick', nowS: DUE_S + 2 });
    expect(trial.codes.at(-1)).toBe('link-silent');
    // Everything of the next five seconds comes at once: the height is passed, and it was long ago.
    for (const sample of kept.filter(({ timeS }) => timeS >= DUE_S - 3 && timeS < DUE_S + 2)) {
      trial.give({ kind: 'sample', sample, receivedS: DUE_S + 2 });
    }
    expect(trial.codes).toContain('link-back');
    expect(trial.sends).toEqual([]);
    for (const sample of kept.filter(({ timeS }) => timeS >= DUE_S + 2)) {
      trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
    }
    expect(trial.sends[0]?.purpose).toBe('fire');
    expect(trial.event('fail-commanded')?.timeS).toBeGreaterThanOrEqual(DUE_S + 2.3);
  });
});

describe('one wild altitude, no farther off than coarse ones may be', () => {
  test.each([
    ['with a height channel', [] as const],
    ['without one', ['heightFt'] as const],
  ])('does not bring the failure early (%s)', (_, without) => {
    // 64.7 s is 54 ft below the drawn height.
    const wild = (sample: Sample) => {
      if (Math.abs(sample.timeS - 64.7) > 0.01) return sample;
      const high = { ...sample, altitudeFt: sample.altitudeFt + 60 };
      return sample.heightFt === undefined ? high : { ...high, heightFt: sample.heightFt + 60 };
    };
    const { powerFellAt } = fly(setupOf(), { onTheWay: wild, without });
    expect(Math.abs((powerFellAt?.heightFt ?? 0) - 1000)).toBeLessThan(4);
  });
  test.each([25, 100])('altitudes in steps of %i ft still bring it within a step', (stepFt) => {
    const coarse = (sample: Sample) => ({ ...sample, altitudeFt: Math.round(sample.altitudeFt / stepFt) * stepFt });
    const { trial, powerFellAt } = fly(setupOf(), { onTheWay: coarse, without: ['heightFt'] });
    expect(Math.abs((powerFellAt?.heightFt ?? 0) - 1000)).toBeLessThanOrEqual(stepFt);
    expect(trial.codes.includes('data-fault')).toBe(stepFt > 60); // larger steps do not go with vertical speed
  });
});

describe('the highest height', () => {
  test('passed without data, no failure comes above it, and that is told once', () => {
    // From 60 s (850 ft) to 92 s (1,540 ft) nothing arrives; the highest height is 1,500 ft.
    const { trial } = fly(setupOf(), {
      onTheWay: (sample) => (between(sample, 60, 92) ? null : sample),
      forS: 120,
      pace: 20,
    });
    expect(trial.sends).toEqual([]);
    expect(trial.events.filter(({ text }) => text.startsWith('Passed 1,500 ft'))).toHaveLength(1);
  });
  test('passed in part, the failure comes late rather than never', () => {
    const { trial } = fly(setupOf(), { onTheWay: (sample) => (between(sample, 60, 72) ? null : sample), pace: 20 });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
    expect(trial.event('fail-commanded')?.figures?.heightFt).toBeGreaterThan(1080);
    expect(trial.event('fail-commanded')?.figures?.heightFt).toBeLessThan(1500);
  });
  test('drawn at the very top, it comes just below', () => {
    const { powerFellAt } = fly(setupOf({ drawn: totalAt(1500) }), { lossShare: 0.05 });
    expect(powerFellAt?.heightFt).toBeGreaterThan(1492);
    expect(powerFellAt?.heightFt).toBeLessThanOrEqual(1500);
  });
  test('holds for a surging engine: above it, power is given back and not taken away again', () => {
    const drawn = { kind: 'surging', heightFt: 800, powerFraction: 0.1, propeller: 'coarse' } as const;
    const base = setupOf({ drawn });
    const failure = { ...base.scenario.failure, highestHeightFt: 1200 };
    const trial = armedTrial({ ...base, scenario: { ...base.scenario, failure } });
    const surges: { power: number; heightFt: number }[] = [];
    // It climbs on whatever its engine does, to 2,500 ft.
    for (const sample of climbSamples(140)) {
      const powerFraction = trial.state.fired === null ? 1 : 0.1;
      for (const action of trial.give({
        kind: 'sample',
        sample: { ...sample, powerFraction },
        receivedS: sample.timeS,
      })) {
        if (action.kind === 'send' && action.purpose === 'surge')
          surges.push({ power: action.powerFraction, heightFt: sample.heightFt ?? 0 });
      }
    }
    expect(surges.length).toBeGreaterThan(4);
    expect(surges.filter(({ heightFt }) => heightFt > 1200).every(({ power }) => power > 0.1)).toBe(true);
    expect(surges.at(-1)?.power).toBeGreaterThan(0.1);
  });
  test('holds by hand as well', () => {
    const none = { kind: 'none', heightFt: null, powerFraction: 0, propeller: 'coarse' } as const;
    const { trial } = fly(setupOf({ drawn: none }), { persons: [{ atS: 100, command: 'fail-now' }], forS: 102 });
    expect(trial.actions).toContainEqual({ kind: 'answer', ok: false, text: 'Never above 1,500 ft.' });
    expect(trial.sends).toEqual([]);
  });
});

describe('a command not obeyed is sent again by the rules of the first one only', () => {
  const upTo = (heightFt: number) => {
    const setup = setupOf({ drawn: totalAt(900) });
    const failure = { ...setup.scenario.failure, highestHeightFt: heightFt };
    return { ...setup, scenario: { ...setup.scenario, failure } };
  };
  const notObeyed = (trial: ReturnType<typeof armedTrial>) => trial.event('not-obeyed');

  test('never above the highest height: then it is named, with what kept it from being sent', () => {
    const { trial } = fly(upTo(905), { obeys: false, forS: 90 });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
    expect(trial.state.name).toBe('disobeyed');
    expect(notObeyed(trial)?.text).toBe(
      'The simulator did not obey: power did not fall after 1 command, and none is sent above 905 ft.',
    );
  });
  test('never on the first samples after a silence, nor above the highest height that was passed in it', () => {
    // The failure goes out near 62 s (900 ft); then nothing arrives until 85 s (1,380 ft).
    const silent = (sample: Sample) => (between(sample, 62.5, 85) ? null : sample);
    const { trial } = fly(upTo(1000), { obeys: false, onTheWay: silent, forS: 100 });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
    expect(notObeyed(trial)?.timeS).toBeGreaterThan(85);
  });
  test('after a silence below the highest height it goes out again once data are settled', () => {
    const silent = (sample: Sample) => (between(sample, 62.5, 66) ? null : sample);
    const { trial } = fly(upTo(1500), { obeys: false, onTheWay: silent, forS: 100 });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire', 'repeat', 'repeat', 'repeat']);
    expect(trial.event('command-repeated')?.timeS).toBeCloseTo(66.3, 1);
  });
  test('never on the ground', () => {
    const landed = (sample: Sample) => (sample.timeS < 62.5 ? sample : { ...sample, onGround: true });
    const { trial } = fly(upTo(1500), { obeys: false, onTheWay: landed, forS: 75 });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
    expect(notObeyed(trial)?.text).toMatch(/after 1 command, and none is sent on the ground\.$/);
  });
});

describe('by hand', () => {
  test('refused while no data arrive', () => {
    const lost = (sample: Sample) => (sample.timeS > 40 ? null : sample);
    const { trial } = fly(setupOf(), { onTheWay: lost, persons: [{ atS: 42, command: 'fail-now' }], forS: 45 });
    expect(trial.sends).toEqual([]);
    expect(trial.actions).toContainEqual({
      kind: 'answer',
      ok: false,
      text: 'The data are stale or implausible just now.',
    });
  });
});

describe('order', () => {
  test('late and doubled datagrams are dropped and counted, and the failure still comes at its height', () => {
    const trial = armedTrial();
    const flown = climbSamples(75);
    for (const [index, sample] of flown.entries()) {
      for (const each of [sample, flown[index - 1] ?? sample, sample]) {
        trial.give({ kind: 'sample', sample: each, receivedS: sample.timeS });
      }
    }
    expect(trial.event('fail-commanded')?.timeS).toBeCloseTo(DUE_S, 0);
    expect(trial.state.intake.faults.late).toBeGreaterThan(1000);
    const told = trial.events.filter(({ code }) => code === 'data-fault').map(({ text }) => text);
    expect(told.filter((text) => /came late/.test(text))).toHaveLength(3);
    expect(told.filter((text) => /same time/.test(text))).toHaveLength(1);
    expect(told).toHaveLength(4);
    const times = trial.samples.map(({ timeS }) => timeS);
    expect([...new Set(times)].sort((a, b) => a - b)).toEqual(times);
  });
  test('an old stretch sent again between new samples changes nothing', () => {
    const trial = armedTrial();
    const flown = climbSamples(60);
    for (const [index, sample] of flown.entries()) {
      trial.give({ kind: 'sample', sample, receivedS: sample.timeS });
      const old = flown[index - 400];
      if (sample.timeS > 40 && old !== undefined) trial.give({ kind: 'sample', sample: old, receivedS: sample.timeS });
    }
    expect(trial.state.name).toBe('climbing');
  });
});

describe('jumps', () => {
  const away = (sample: Sample) => ({ ...sample, latitudeDeg: sample.latitudeDeg + 0.2 });
  test('one wild position is left out', () => {
    let wild = 0;
    const once = (sample: Sample) => (between(sample, 40, 50) && wild++ === 0 ? away(sample) : sample);
    const { trial } = fly(setupOf(), { onTheWay: once });
    expect(trial.closeReason).toBe('stopped');
    expect(trial.codes).toContain('data-fault');
  });
  test('one time far ahead is left out', () => {
    let wild = 0;
    const once = (sample: Sample) => (between(sample, 40, 50) && wild++ === 0 ? { ...sample, timeS: 9e6 } : sample);
    expect(fly(setupOf(), { onTheWay: once }).trial.closeReason).toBe('stopped');
  });
  test('a position that stays elsewhere is a reset', () => {
    const { trial } = fly(setupOf(), { onTheWay: (sample) => (sample.timeS > 40 ? away(sample) : sample) });
    expect(trial.closeReason).toBe('simulator-reset');
    expect(trial.samples.at(-1)?.timeS).toBe(40);
  });
  test('time that goes back and stays back is a reset', () => {
    const back = (sample: Sample) => (sample.timeS > 40 ? { ...sample, timeS: sample.timeS - 40 } : sample);
    const { trial } = fly(setupOf(), { onTheWay: back });
    expect(trial.closeReason).toBe('simulator-reset');
    expect(trial.event('closed')?.timeS).toBe(40);
  });
  test('before the lift-off a restart only begins the wait again', () => {
    const trial = armedTrial();
    for (const sample of climbSamples(15)) {
      trial.give({ kind: 'sample', sample: { ...sample, timeS: sample.timeS + 500 }, receivedS: sample.timeS });
    }
    for (const sample of climbSamples(70)) {
      trial.give({ kind: 'sample', sample, receivedS: 16 + sample.timeS });
    }
    expect(Math.abs((trial.event('fail-commanded')?.figures?.heightFt ?? 0) - 1000)).toBeLessThan(4);
    expect(trial.samples.every(({ timeS }) => timeS < 100)).toBe(true);
  });
});

describe('silence', () => {
  test('closes the attempt after half a minute in flight', () => {
    const { trial } = fly(setupOf(), { onTheWay: (sample) => (sample.timeS > 40 ? null : sample) });
    expect(trial.codes.slice(-2)).toEqual(['link-silent', 'closed']);
    expect(trial.closeReason).toBe('link-lost');
    expect(trial.state.closed?.text).toBe('No data for 30 s.');
  });
  test('is borne with before the take-off', () => {
    const trial = armedTrial();
    trial.give({ kind: 'tick', nowS: 500 });
    expect(trial.state.name).toBe('armed');
    trial.give({ kind: 'tick', nowS: 601 });
    expect(trial.closeReason).toBe('link-lost');
  });
  test('after the contact it is the end of the flight', () => {
    let touched = false;
    const { trial } = fly(setupOf(), {
      onTheWay: (sample) => {
        if (touched) return null;
        touched = sample.timeS > 70 && sample.onGround === true;
        return sample;
      },
    });
    expect(trial.codes.slice(-3)).toEqual(['contact', 'link-silent', 'closed']);
    expect(trial.closeReason).toBe('stopped');
  });
});
