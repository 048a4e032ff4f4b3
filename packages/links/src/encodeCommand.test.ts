// Command templates are filled as written, and nothing can be smuggled in through a value.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { encodeCommand } from './encodeCommand.js';
import { fixtureProfile } from './links.fixture.js';

const profile = fixtureProfile('stand-in-text');
const sent = (...args: [Parameters<typeof encodeCommand>[1], Parameters<typeof encodeCommand>[2]]) =>
  new TextDecoder().decode(encodeCommand(profile, ...args));

describe('filled templates', () => {
  test('fail', () => expect(sent('fail', { propeller: 'coarse' })).toBe('FAIL propeller=coarse'));
  test('restore takes no value', () => expect(sent('restore', {})).toBe('RESTORE'));
  test('numbers are written plainly', () =>
    expect(sent('setPower', { powerFraction: 0.1 + 0.2, propeller: 'stopped' })).toBe(
      'POWER fraction=0.3 propeller=stopped',
    ));
  test('begin', () =>
    expect(sent('begin', { scenarioId: 'a-b', pilot: 'prompt', seed: 7, speed: 20 })).toBe(
      'BEGIN scenario=a-b pilot=prompt seed=7 speed=20',
    ));
});

describe('refused', () => {
  test.each([
    ['a missing value', {}, /^propeller is missing/],
    ['a line feed', { propeller: 'coarse\nRESET' }, /^propeller must have 1 to 64 characters/],
    ['a space', { propeller: 'coarse RESET' }, /without spaces/],
    ['nothing', { propeller: '' }, /got ""$/],
    ['not a number', { propeller: Number.NaN }, /^propeller must be a finite number, got NaN/],
  ])('%s', (_, values, sentence) => {
    expect(() => sent('fail', values)).toThrow(sentence);
  });
  test('a command that the profile lacks', () => {
    const { commands: _, ...mute } = profile;
    expect(() => encodeCommand(mute, 'fail', {})).toThrow('link "stand-in-text" has no command "fail"');
  });
  test('whatever the value, what is sent is one line and starts with its own command', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 12 }), (propeller) => {
        try {
          expect(sent('fail', { propeller })).toMatch(/^FAIL propeller=[^\s\p{C}]+$/u);
        } catch (error) {
          expect(error).toBeInstanceOf(RangeError);
        }
      }),
    );
  });
});
