// What holds for the decoder of every open standard, on bytes of every kind.
import { REQUIRED_CHANNELS, SAMPLE_CHANNELS } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { assertSound } from './mutated.fixture.js';
import { OPEN_STANDARDS } from './openStandards.js';

describe.each(Object.values(OPEN_STANDARDS))('$name', ({ decode, coverage }) => {
  test('any bytes are read or refused, and no bytes are refused as such', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (datagram) => {
        const decoded = decode(datagram);
        assertSound(decoded);
        expect(decoded.messages.length + decoded.refused.length + decoded.passedOver).toBeGreaterThan(0);
      }),
    );
    expect(decode(new Uint8Array())).toEqual({ messages: [], refused: [{ reason: 'empty' }], passedOver: 0 });
  });

  test('the same bytes read the same at any place in a larger buffer, and are left as they were', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), fc.nat({ max: 9 }), (datagram, offset) => {
        const buffer = new Uint8Array(offset + datagram.length + 5).fill(0x7e);
        buffer.set(datagram, offset);
        const before = buffer.slice();
        expect(decode(buffer.subarray(offset, offset + datagram.length))).toEqual(decode(datagram));
        expect(buffer).toEqual(before);
      }),
    );
  });

  test.each([0x00, 0x24, 0x7d, 0x7e, 0xfd, 0xff])('the longest datagram of 0x%s alone comes to an end', (byte) => {
    const { messages, refused } = decode(new Uint8Array(65_507).fill(byte));
    expect(messages).toEqual([]);
    expect(refused.length).toBeLessThan(40_000);
  });

  test('the table has every channel, and says of each that lacks what is lost', () => {
    expect(Object.keys(coverage)).toEqual(SAMPLE_CHANNELS);
    for (const channel of SAMPLE_CHANNELS) {
      const entry = coverage[channel];
      if (entry.given !== 'no') continue;
      expect(entry.lost).toMatch(/^[A-Z].*\.$/);
      expect(entry.required).toBe(REQUIRED_CHANNELS.includes(channel));
    }
  });
});

test('what each standard cannot give of the channels that are needed', () => {
  const lacking = Object.entries(OPEN_STANDARDS).map(([name, { coverage }]) => [
    name,
    REQUIRED_CHANNELS.filter((channel) => coverage[channel].given === 'no'),
  ]);
  expect(Object.fromEntries(lacking)).toEqual({
    gdl90: ['indicatedAirspeedKt', 'bankDeg', 'pitchDeg'],
    nmea0183: ['indicatedAirspeedKt', 'headingDeg', 'bankDeg', 'pitchDeg', 'verticalSpeedFpm'],
    entityState: ['indicatedAirspeedKt'],
    mavlink2: [],
  });
});
