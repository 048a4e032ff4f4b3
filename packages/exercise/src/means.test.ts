// Failures on links without a command for them: the throttle closed by command, or by the instructor's hand.
import { describe, expect, test } from 'vitest';
import { fly, setupOf } from './flight.fixture.js';
import { failureCommand, startExercise } from './index.js';
import type { ExerciseSetup } from './states.js';

const total = setupOf().drawn;
const throttle = { commands: ['throttle', 'reset'], noFailureCommand: 'cut-throttle' } satisfies Partial<ExerciseSetup>;
const hand = { commands: [], noFailureCommand: 'by-hand' } satisfies Partial<ExerciseSetup>;

describe('which way a failure is made', () => {
  test('a command made for it goes before the throttle and the hand', () => {
    for (const noFailureCommand of ['cut-throttle', 'by-hand'] as const) {
      expect(failureCommand(total, { commands: ['fail', 'throttle'], noFailureCommand })).toMatchObject({
        means: 'command',
        command: 'fail',
      });
    }
  });
  test('a throttle command is not used unless the profile says so', () => {
    expect(failureCommand(total, { commands: ['throttle'] })).toBeNull();
    expect(() => startExercise(setupOf({ commands: ['throttle'] }))).toThrow(/noFailureCommand/);
  });
  test('nobody surges an engine by hand', () => {
    expect(failureCommand({ ...total, kind: 'surging' }, hand)).toBeNull();
    expect(failureCommand({ ...total, kind: 'partial', powerFraction: 0.4 }, hand)).toEqual({
      means: 'by-hand',
      powerFraction: 0.4,
    });
  });
});

test('the throttle is closed once, at the height drawn, and the recording says that it was the throttle', () => {
  const { trial, powerFellAt } = fly(setupOf(throttle));
  expect(trial.sends).toMatchObject([{ purpose: 'fire', command: 'throttle', powerFraction: 0 }]);
  expect(Math.abs((powerFellAt?.heightFt ?? 0) - 1000)).toBeLessThan(5);
  expect(trial.event('fail-commanded')).toMatchObject({
    means: 'cut-throttle',
    text: expect.stringMatching(/^The throttle was closed by command at /),
  });
  expect(trial.codes).toContain('power-fell');
});

test('power comes back by the throttle that took it away', () => {
  const { trial } = fly(setupOf(throttle), { persons: [{ atS: 80, command: 'restore' }] });
  expect(trial.sends.at(-1)).toMatchObject({ purpose: 'restore', command: 'throttle', powerFraction: 1 });
});

test('a command made for failures needs no word about its means', () => {
  const { trial } = fly(setupOf());
  expect(trial.event('fail-commanded')).not.toHaveProperty('means');
});

describe('by hand', () => {
  test('nothing is sent: the instructor is told once, early enough for a hand, and the recording says so', () => {
    const { trial, powerFellAt } = fly(setupOf(hand));
    expect(trial.sends).toEqual([]);
    expect(trial.prompts).toEqual([{ kind: 'prompt', purpose: 'fire', text: 'Close the throttle now.' }]);
    // The hand takes the 1.5 s assumed; 0.05 s of link and half a sample's climb remain.
    expect(Math.abs((powerFellAt?.heightFt ?? 0) - 1000)).toBeLessThan(5);
    expect(trial.event('fail-commanded')?.means).toBe('by-hand');
    expect(trial.codes).toContain('power-fell');
  });
  test('a hand that is slow is waited for, and its latency is measured', () => {
    const { trial } = fly(setupOf(hand), { handS: 6 });
    expect(trial.prompts).toHaveLength(1);
    expect(trial.codes).not.toContain('not-obeyed');
    expect(trial.event('power-fell')?.figures?.latencyS).toBeCloseTo(6, 0);
  });
  test('a hand that never comes is told as such, without a command repeated', () => {
    const { trial } = fly(setupOf(hand), { obeys: false, forS: 120 });
    expect(trial.prompts).toHaveLength(1);
    expect(trial.event('not-obeyed')?.text).toMatch(/after the instructor was told to close the throttle\.$/);
    expect(trial.codes).not.toContain('command-repeated');
    expect(trial.state.name).toBe('disobeyed');
  });
  test('power comes back by hand too', () => {
    const { trial } = fly(setupOf(hand), { persons: [{ atS: 80, command: 'restore' }] });
    expect(trial.prompts.map(({ purpose }) => purpose)).toEqual(['fire', 'restore']);
    expect(trial.codes).toContain('restored');
  });
});
