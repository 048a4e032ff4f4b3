// Links that tell the power by engine speed only, behind a governed propeller; and power that comes back.
import type { Sample } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { armedTrial, fly, setupOf, totalAt } from './flight.fixture.js';

const governed = (sample: Sample) => ({ ...sample, engineRpm: 2500 });
const rpmOnly = { without: ['powerFraction'] as const, onTheWay: governed };
const setup = setupOf({ drawn: totalAt(900) });

describe('an engine speed that a governor holds up', () => {
  test.each([
    ['total', setup],
    ['to 40 %', setupOf({ drawn: { kind: 'partial', heightFt: 900, powerFraction: 0.4, propeller: 'coarse' } })],
  ])('does not hide a loss of power (%s): energy tells it, and the channel to add is named', (_, each) => {
    const { trial, powerFellAt } = fly(each, { ...rpmOnly, forS: 90 });
    expect(trial.sends.map(({ purpose }) => purpose)).toEqual(['fire']);
    const fell = trial.event('power-fell');
    expect(Math.abs((fell?.figures?.fallS ?? 0) - (powerFellAt?.atS ?? 0))).toBeLessThan(1);
    expect(fell?.figures).toMatchObject({ byEnergy: 1 });
    expect(fell?.figures).not.toHaveProperty('latencyS');
    expect(fell?.text).toMatch(/Climb and speed told it: engine speed stayed up\. .*"powerFraction"/);
  });
  const from = (heightFt: number, change: (sample: Sample) => Sample) => (sample: Sample) =>
    governed((sample.heightFt ?? 0) < heightFt ? sample : change(sample));
  test.each([
    [
      'levels off as the command goes out',
      from(903, (sample) => ({ ...sample, heightFt: 903, altitudeFt: 312 + 903, verticalSpeedFpm: 0 })),
    ],
    // Pulling up: 10 kt of speed for the height that they are worth near 92 kt, over 4 s of climb and more.
    [
      'trades speed for height',
      from(903, (sample) => ({
        ...sample,
        indicatedAirspeedKt: Math.max(75, 92 - ((sample.heightFt ?? 0) - 903) / 9),
      })),
    ],
  ])('nor makes a loss of a pilot who %s', (_, onTheWay) => {
    const { trial } = fly(setup, { ...rpmOnly, obeys: false, onTheWay, forS: 100 });
    expect(trial.codes).not.toContain('power-fell');
    expect(trial.codes).toContain('not-obeyed');
  });
  test('is named where the simulator seems not to obey', () => {
    const { trial } = fly(setup, { ...rpmOnly, obeys: false, forS: 100 });
    expect(trial.event('not-obeyed')?.text).toBe(
      'The simulator did not obey: power did not fall after 4 commands. This link tells the power by engine speed only. ' +
        'A governed propeller holds its speed without power: map the channel "powerFraction" in the link profile.',
    );
  });
});

describe('power that comes back by itself', () => {
  /** The flight of a restored engine, told to an exercise that nobody asked to restore anything. */
  const again = (without: readonly (keyof Sample)[], change = (sample: Sample): Sample => sample) => {
    const told: Sample[] = [];
    fly(setup, {
      persons: [{ atS: 80, command: 'restore' }],
      onTheWay: (sample) => {
        told.push(sample);
        return sample;
      },
    });
    const trial = armedTrial(setup);
    for (const sample of told) {
      const each = change({ ...sample });
      for (const channel of without) delete each[channel];
      trial.give({ kind: 'sample', sample: each, receivedS: sample.timeS });
    }
    return trial;
  };
  test.each([
    ['power', []],
    ['engine speed', ['powerFraction'] as const],
  ])('is recorded, and a climb on it is a go-around (by %s)', (_, without) => {
    const trial = again(without);
    expect(trial.codes.slice(-3)).toEqual(['restored', 'go-around', 'closed']);
    expect(trial.event('restored')?.timeS).toBeCloseTo(81, 0);
    expect(trial.event('restored')?.text).toBe('Power came back without the word of the instructor.');
    expect(trial.closeReason).toBe('went-around');
  });
  test('is not made of one wild value', () => {
    const { trial } = fly(setup, {
      onTheWay: (sample) => (Math.abs(sample.timeS - 80) < 0.01 ? { ...sample, powerFraction: 1 } : sample),
    });
    expect(trial.codes).not.toContain('restored');
    expect(trial.closeReason).toBe('stopped');
  });
});
