import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseStandInCommand } from './index.js';

test.each([
  ['FAIL propeller=stopped', { word: 'FAIL', propeller: 'stopped' }],
  ['POWER fraction=0.4', { word: 'POWER', fraction: 0.4, propeller: 'coarse' }],
  ['  RESTORE\r\n', { word: 'RESTORE' }],
  [
    'BEGIN scenario=first-turn-back pilot=hesitant seed=7 speed=20',
    { word: 'BEGIN', scenario: 'first-turn-back', pilot: 'hesitant', seed: 7, speed: 20 },
  ],
])('%s is understood', (text, command) => {
  expect(parseStandInCommand(text)).toEqual({ ok: true, value: command });
});

test.each([
  ['EXPLODE', /word/],
  ['POWER', /fraction is missing/],
  ['POWER fraction=2', /fraction must be 0 to 1/],
  ['POWER fraction=', /fraction/],
  ['BEGIN scenario=../../etc', /scenario must be 1 to 64 lower-case letters/],
  ['BEGIN scenario=a seed=1.5', /seed must be a whole number/],
  ['FAIL now', /"now" must be name=value/],
])('%s is refused in one sentence', (text, sentence) => {
  const parsed = parseStandInCommand(text);
  expect(parsed.ok ? 'accepted' : parsed.problem.message).toMatch(sentence);
});

test('a pair cannot change the word itself', () => {
  expect(parseStandInCommand('FAIL word=RESET')).toMatchObject({ ok: true, value: { word: 'FAIL' } });
});

test('no text makes it throw', () => {
  fc.assert(fc.property(fc.string({ maxLength: 400 }), (text) => typeof parseStandInCommand(text).ok === 'boolean'));
});
