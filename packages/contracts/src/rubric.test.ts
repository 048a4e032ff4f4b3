// A rubric whose limits contradict each other is refused; one from before a limit existed is still read.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from './problem.js';
import { Rubric } from './rubric.js';

const shelf = () =>
  JSON.parse(readFileSync(new URL('../../../fixtures/rubrics/standard.json', import.meta.url), 'utf8')) as Record<
    string,
    Record<string, unknown>
  >;
const withValue = (path: string, value: number) => {
  const rubric = shelf();
  const [part, field] = path.split('.') as [string, string];
  return { ...rubric, [part]: { ...rubric[part], [field]: value } };
};

test.each([
  ['delay.zeroAtS', 2, 'delay.zeroAtS must be at least fullWithinS (3 s), got 2'],
  ['bank.zeroUnderByDeg', 4, 'bank.zeroUnderByDeg must be at least fullWithinDeg (5 degrees), got 4'],
  ['bank.zeroOverByDeg', 4, 'bank.zeroOverByDeg must be at least fullWithinDeg (5 degrees), got 4'],
  ['airspeed.zeroAboveKt', 9, 'airspeed.zeroAboveKt must be at least fullAboveKt (10 kt), got 9'],
  ['airspeed.zeroBelowKt', 4, 'airspeed.zeroBelowKt must be at least fullBelowKt (5 kt), got 4'],
  ['touchdown.fullShortFt', 900, 'touchdown.zeroShortFt must be at least fullShortFt (900 ft), got 700'],
  ['touchdown.zeroLongFt', 300, 'touchdown.zeroLongFt must be at least fullLongFt (400 ft), got 300'],
  ['touchdown.zeroAcrossFt', 10, 'touchdown.zeroAcrossFt must be at least fullAcrossFt (20 ft), got 10'],
  ['touchdown.zeroSinkFpm', 200, 'touchdown.zeroSinkFpm must be at least fullSinkFpm (300 ft/min), got 200'],
  ['touchdown.crashSinkFpm', 600, 'touchdown.crashSinkFpm must be at least zeroSinkFpm (900 ft/min), got 600'],
  ['ahead.zeroAtBankDeg', 20, 'ahead.zeroAtBankDeg must be at least fullWithinBankDeg (30 degrees), got 20'],
  ['ahead.zeroContactBankDeg', 4, 'ahead.zeroContactBankDeg must be at least fullContactBankDeg (5 degrees), got 4'],
  ['ahead.zeroStallSpeedRatio', 1.1, 'ahead.zeroStallSpeedRatio must be at least fullStallSpeedRatio (1.2), got 1.1'],
])('%s = %d, where marks would run out before they were full, is refused in one sentence', (path, value, sentence) => {
  const parsed = parse(Rubric, withValue(path, value), 'the rubric');
  expect(parsed.ok ? '' : parsed.problem.message).toBe(sentence);
});

test('limits that meet are a step, and are taken', () => {
  expect(parse(Rubric, withValue('delay.zeroAtS', 3), 'the rubric').ok).toBe(true);
});

test('a rubric without the sink of a crash, or without landing ahead, is read as before', () => {
  const { ahead: _, ...rubric } = shelf();
  const { crashSinkFpm: __, ...touchdown } = rubric.touchdown as Record<string, unknown>;
  expect(parse(Rubric, { ...rubric, touchdown }, 'the rubric').ok).toBe(true);
});
