// A bank that the speed of the turn cannot hold is said, with the bank it can.
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { requestR } from './reference.fixture.js';
import type { FlyRequest } from './request.js';
import { techniqueWarnings } from './techniqueWarnings.js';

const asking = (technique: Partial<FlyRequest['technique']>, massKg?: number): FlyRequest => {
  const request = requestR();
  const { aircraft } = request;
  return {
    ...request,
    aircraft: massKg === undefined ? aircraft : { ...aircraft, massKg, referenceMassKg: aircraft.massKg },
    technique: { ...request.technique, ...technique },
  };
};

// By hand: 1.05 · 64 kt · √(1/cos 45°) = 79.91 kt. At 75 kt n = (75/67.2)² = 1.2456, acos(1/n) = 36.6°.
test('below the stall in the turn over the margin the bank that is left is told, rounded down', () => {
  const [warning, ...others] = techniqueWarnings(asking({ targetKcas: 75 }));
  expect(others).toEqual([]);
  expect(warning?.field).toBe('technique.targetKcas');
  expect(warning?.message).toMatch(/45°.*80 kt.*75 kt.*36°/);
});

test.each([
  [79.8, 1],
  [80, 0],
])('at %s kt there are %s warnings', (targetKcas, count) => {
  expect(techniqueWarnings(asking({ targetKcas }))).toHaveLength(count);
});

// By hand: the stall at 1,800 kg is 64 kt · √1.2 = 70.1 kt; over the margin in the turn 1.05 · 70.1 · 1.1892 = 87.5 kt.
test('the mass flown counts', () => {
  expect(techniqueWarnings(asking({ targetKcas: 85 }))).toEqual([]);
  const [warning] = techniqueWarnings(asking({ targetKcas: 85 }, 1800));
  expect(warning?.message).toMatch(/88 kt/);
});

// By hand: 67 kt is below the 67.2 kt at which even level flight uses up the margin.
test('a speed that holds no bank at all says so', () => {
  expect(techniqueWarnings(asking({ targetKcas: 67 }))[0]?.message).toMatch(/no bank at all/);
});

test('where the bank is kept the nose drops instead, and that is said', () => {
  expect(techniqueWarnings(asking({ targetKcas: 75, bankKept: true }))[0]?.message).toMatch(/nose/);
});

test('the speed at the beginning of the turn is held against it too; landing ahead has no turn', () => {
  const fields = techniqueWarnings(asking({ targetKcas: 85, turnEntryKcas: 75 })).map(({ field }) => field);
  expect(fields).toEqual(['technique.turnEntryKcas']);
  expect(techniqueWarnings(asking({ targetKcas: 75, turn: 'ahead' }))).toEqual([]);
});

test('the bank told is the one the model then flies', () => {
  const request = asking({ targetKcas: 75, turn: 'right' });
  const { track } = flyAttempt(request, { trackEveryS: 0.5 });
  const steady = track.bankDeg.filter((_, i) => track.phase[i] === 'turn').slice(-12, -6);
  expect(steady.length).toBe(6);
  for (const bankDeg of steady) expect(Math.abs(bankDeg - 36.6)).toBeLessThan(2.5);
});
