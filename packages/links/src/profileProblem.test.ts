// A profile that cannot work is refused with one sentence, and says what it cannot give.
import { LinkProfile } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { createDecoder, createPartDecoder } from './decode.js';
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

/** A profile made of a fixture's JSON with some fields changed, as a person writes it. */
const changed = (name: string, change: object) => LinkProfile.parse({ ...fixtureProfile(name), ...change });
const binary = fixtureProfile('example-binary-records').decoder;
const keyValue = fixtureProfile('example-key-value').decoder;
const tcp = { kind: 'tcpServer', listenPort: 1 };

describe('refused in one sentence', () => {
  test.each<[string, string, object, string]>([
    [
      'bytes over TCP',
      'example-binary-records',
      { transport: tcp },
      'transport.kind must not be "tcpServer" with a decoder of bytes: TCP is read in lines',
    ],
    [
      'a group that is none',
      'stand-in-text',
      { transport: { kind: 'udp', listenHost: '0.0.0.0', listenPort: 1, multicastGroup: '10.0.0.1' } },
      'transport.multicastGroup must be 224.0.0.0 to 239.255.255.255, or begin with ff (IPv6), got "10.0.0.1"',
    ],
    [
      'a group on one address',
      'stand-in-text',
      { transport: { kind: 'udp', listenPort: 1, multicastGroup: '239.1.2.3' } },
      'transport.listenHost must be 0.0.0.0 (or ::) with a multicastGroup, got "127.0.0.1"',
    ],
    [
      'a card without a group',
      'stand-in-text',
      { transport: { kind: 'udp', listenPort: 1, multicastInterface: '10.0.0.1' } },
      'transport.multicastInterface must be left out without a multicastGroup to join',
    ],
    [
      'many lines a sample over TCP',
      'example-key-value',
      { transport: tcp, decoder: { ...keyValue, samplePer: 'message' } },
      'decoder.samplePer must be "line" over TCP, where each line is a message, got "message"',
    ],
    [
      'separators alike',
      'example-key-value',
      { decoder: { ...keyValue, keySeparator: ';' } },
      'decoder.keySeparator must differ from pairSeparator ";", got ";"',
    ],
    [
      'a separator in a decimal',
      'example-key-value',
      { decoder: { ...keyValue, pairSeparator: ',' } },
      'decoder.pairSeparator must differ from the decimal mark ","',
    ],
    [
      'a match without bytes',
      'example-binary-records',
      { decoder: { ...binary, match: [{ offset: 0 }] } },
      'decoder.match[0] must have either hex or text',
    ],
    [
      'a name twice',
      'example-binary-records',
      { decoder: { ...binary, fields: [0, 8].map((offset) => ({ name: 'clock', offset, type: 'uint8' })) } },
      'decoder.fields must have each name once, got "clock" twice',
    ],
    [
      'a field beyond its record',
      'example-binary-records',
      {
        decoder: {
          ...binary,
          records: {
            firstOffset: 10,
            lengthBytes: 8,
            index: { offset: 0, type: 'int32' },
            fields: [{ name: 'a', offset: 4, type: 'float64' }],
          },
        },
      },
      'decoder.records: offset of a must leave room for float64 in records of 8 bytes, got 4',
    ],
    [
      'a slot in no record',
      'example-binary-records',
      { channels: { timeS: { slot: '1/e', unit: 's' } } },
      'channels.timeS.slot must be <index>/<name> with a field of the records, got "1/e"',
    ],
    [
      'a slot by number under a header line',
      'example-header-line',
      { channels: { timeS: { slot: 3, unit: 's' } } },
      'channels.timeS.slot must be a name in the header line, got 3',
    ],
    [
      'bounds the wrong way round',
      'stand-in-json',
      { channels: { timeS: { slot: 'a', unit: 's', clamp: [2, 1] } } },
      'channels.timeS.clamp must be a lower and a higher number, got [2, 1]',
    ],
    ['no channel at all', 'stand-in-json', { channels: {} }, 'channels must name at least one channel, got {}'],
    [
      'two times',
      'stand-in-json',
      { timeSource: 'arrival' },
      'channels.timeS must be left out where timeSource is "arrival": the clock of the bridge is the time',
    ],
    [
      'a channel both sent and derived',
      'stand-in-json',
      { derived: [{ channel: 'verticalSpeedFpm' }] },
      'derived[0].channel must be a channel that is neither in channels nor derived before, got "verticalSpeedFpm"',
    ],
    [
      'a calculation from nothing',
      'example-header-line',
      { derived: [{ channel: 'trueAirspeedKt' }, { channel: 'groundspeedKt' }] },
      'derived[0].channel needs groundspeedKt: give it in channels, or derive it before, got "trueAirspeedKt"',
    ],
    [
      'commands without a port',
      'stand-in-text',
      { commands: { fail: 'F' } },
      'commands.port is missing: over UDP it must be the port on which the simulator listens',
    ],
    [
      'a throttle to cut that is none',
      'stand-in-text',
      { commands: { port: 1, noFailureCommand: 'cut-throttle' } },
      'commands.throttle is missing: noFailureCommand "cut-throttle" needs it',
    ],
    [
      'a lever in place of power',
      'stand-in-text',
      { commands: { port: 1, setPower: 'P {throttleFraction}' } },
      'commands.setPower may ask for powerFraction, got "throttleFraction"',
    ],
    [
      'a number beyond the bytes',
      'stand-in-text',
      {
        commands: {
          port: 1,
          setPower: { hex: '00 00 00', values: [{ value: 'powerFraction', offset: 0, type: 'float32' }] },
        },
      },
      'commands.setPower.values[0].offset must leave room for float32 in hex, which must have 4 bytes for it and has 3, got 0',
    ],
    [
      'a scale that does not fit',
      'stand-in-text',
      {
        commands: {
          port: 1,
          setPower: { hex: '00', values: [{ value: 'powerFraction', offset: 0, type: 'uint8', scale: 256 }] },
        },
      },
      'commands.setPower.values[0].scale must be a number that uint8 can hold, got 256',
    ],
    [
      'a link that leads itself',
      'stand-in-text',
      { merge: ['stand-in-text'] },
      'merge must name other links than this one, got "stand-in-text"',
    ],
    [
      'a supplement that leads',
      'example-second-link',
      { merge: ['x'] },
      'merge must be left out where supplement is true: that link leads no others',
    ],
  ])('%s', (_, name, change, sentence) => {
    const profile = changed(name, change);
    expect(linkProfileProblem(profile)?.message).toBe(sentence);
    expect(() => createPartDecoder(profile)).toThrow(sentence);
  });
});

test('a link that supplies others, or is supplied, may lack channels; it cannot be decoded alone', () => {
  const supplement = fixtureProfile('example-second-link');
  expect(linkProfileProblem(supplement)).toBeNull();
  expect(() => createDecoder(supplement)).toThrow('channels.timeS is missing');
  expect(linkProfileProblem({ ...text, channels: fewer, merge: ['other'] })).toBeNull();
});
