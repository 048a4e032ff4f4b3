// A profile that cannot work is refused with one sentence, and says what it cannot give.
import type { LinkProfile } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { createDecoder } from './decode.js';
import { fixtureProfile } from './links.fixture.js';
import { linkProfileProblem, missingChannels } from './profileProblem.js';
import { linkCommands } from './templateProblem.js';

const text = fixtureProfile('stand-in-text');
const source = text.channels.altitudeFt as NonNullable<LinkProfile['channels'][string]>;
const withChannel = (channel: string, change: object): LinkProfile => ({
  ...text,
  channels: { ...text.channels, [channel]: { ...source, ...change } },
});
const { altitudeFt: _, heightFt: __, ...fewer } = text.channels;

test.each(['stand-in-text', 'stand-in-json'])('the shelf profile %s works and gives every channel', (name) => {
  const profile = fixtureProfile(name);
  expect(linkProfileProblem(profile)).toBeNull();
  expect(missingChannels(profile)).toEqual([]);
  expect(linkCommands(profile)).toEqual(['fail', 'setPower', 'restore', 'reset', 'begin']);
});

test('channels without a slot are missing', () => {
  expect(missingChannels({ ...text, channels: fewer })).toEqual(['altitudeFt', 'heightFt']);
});

describe('refused', () => {
  test.each<[string, LinkProfile, RegExp]>([
    ['a required channel missing', { ...text, channels: fewer }, /^channels\.altitudeFt is missing/],
    ['a speed in degrees', withChannel('groundspeedKt', { unit: 'deg' }), /must be one of kt, m\/s, .* got "deg"$/],
    ['a scale of nought', withChannel('altitudeFt', { scale: 0 }), /^channels\.altitudeFt\.scale must be/],
    ['an unknown column', withChannel('altitudeFt', { slot: 'nowhere' }), /got "nowhere"$/],
    ['a column beyond the last', withChannel('altitudeFt', { slot: 21 }), /slot must be 0 to 20, .* got 21$/],
    [
      'a decimal mark that separates',
      { ...text, decoder: { kind: 'delimited', separator: ',', decimal: ',' } },
      /^decoder\.separator must differ/,
    ],
    [
      'a template value that nobody fills',
      { ...text, commands: { host: '127.0.0.1', port: 1, fail: 'F {height}' } },
      /^commands\.fail may ask for .* got "\{height\}"$/,
    ],
  ])('%s', (_name, profile, sentence) => {
    expect(linkProfileProblem(profile)?.message).toMatch(sentence);
    expect(() => createDecoder(profile)).toThrow(RangeError);
  });
});
