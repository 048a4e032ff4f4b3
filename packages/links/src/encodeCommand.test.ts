// Command templates are filled as written, and nothing can be smuggled in through a value.
import { BINARY_WIDTHS, type BinaryNumber, LinkCommands, type LinkProfile } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { numberReader } from './binaryNumbers.js';
import { encodeCommand } from './encodeCommand.js';
import { fixtureProfile } from './links.fixture.js';

const profile = fixtureProfile('stand-in-text');
const BINARY_KINDS = Object.keys(BINARY_WIDTHS) as BinaryNumber[];
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

describe('bytes', () => {
  const withBytes = (template: object): LinkProfile => ({
    ...profile,
    commands: LinkCommands.parse({ port: 1, setPower: template }),
  });
  const encoded = (template: object, values: Parameters<typeof encodeCommand>[2]) => [
    ...encodeCommand(withBytes(template), 'setPower', values),
  ];
  const place = { value: 'powerFraction', offset: 1, type: 'uint8', scale: 255 };

  test('are sent as they stand, spaces or not', () => {
    expect(encoded({ hex: '4e 41ff' }, {})).toEqual([0x4e, 0x41, 0xff]);
  });
  // IEEE 754: 0.5 is 3f000000 in single and 3fe0000000000000 in double precision.
  test.each([
    [{ type: 'float32', littleEndian: true }, [0xaa, 0, 0, 0, 0x3f, 0xaa, 0xaa, 0xaa, 0xaa, 0xbb]],
    [{ type: 'float32', littleEndian: false }, [0xaa, 0x3f, 0, 0, 0, 0xaa, 0xaa, 0xaa, 0xaa, 0xbb]],
    [{ type: 'float64', littleEndian: false }, [0xaa, 0x3f, 0xe0, 0, 0, 0, 0, 0, 0, 0xbb]],
    [{ type: 'uint16', scale: 1000 }, [0xaa, 0xf4, 0x01, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xbb]],
    [{ type: 'int64', scale: -2 }, [0xaa, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xbb]],
    [{ type: 'uint8', scale: 255 }, [0xaa, 128, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xaa, 0xbb]],
  ])('take a number as %j', (as, bytes) => {
    const hex = `${'aa'.repeat(9)}bb`;
    expect(encoded({ hex, values: [{ value: 'powerFraction', offset: 1, ...as }] }, { powerFraction: 0.5 })).toEqual(
      bytes,
    );
  });
  test.each([
    ['a missing value', {}, 'powerFraction is missing: the command asks for it'],
    ['text', { powerFraction: '1' }, 'powerFraction must be a finite number, got 1'],
    ['infinity', { powerFraction: 1 / 0 }, 'powerFraction must be a finite number, got Infinity'],
    ['a number too large', { powerFraction: 1.1 }, 'powerFraction × 255 must fit into uint8, got 280.5'],
  ])('refuse %s', (_, values, sentence) => {
    expect(() => encoded({ hex: '00 00', values: [place] }, values)).toThrow(sentence);
  });
  test('what is written is read back, whatever the kind of number', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...BINARY_KINDS),
        fc.boolean(),
        fc.nat(9),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (type, littleEndian, offset, powerFraction) => {
          const bytes = Uint8Array.from(
            encoded(
              { hex: '00'.repeat(18), values: [{ value: 'powerFraction', offset, type, littleEndian, scale: 100 }] },
              {
                powerFraction,
              },
            ),
          );
          const back = numberReader(type, littleEndian)(new DataView(bytes.buffer), offset);
          const sent = powerFraction * 100;
          const expected = type === 'float64' ? sent : type === 'float32' ? Math.fround(sent) : Math.round(sent);
          expect(back).toBe(expected);
        },
      ),
    );
  });
});

test('64-bit whole numbers are read with their sign, either way round', () => {
  const bytes = new DataView(new ArrayBuffer(8));
  for (const littleEndian of [true, false]) {
    bytes.setBigInt64(0, -1_234_567_890_123n, littleEndian);
    expect(numberReader('int64', littleEndian)(bytes, 0)).toBe(-1_234_567_890_123);
    bytes.setBigUint64(0, 9_007_199_254_740_991n, littleEndian);
    expect(numberReader('uint64', littleEndian)(bytes, 0)).toBe(Number.MAX_SAFE_INTEGER);
  }
});
