// GDL 90 against the examples of its interface document, against every encodable report, and against damage.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sourcesClaimed, sourcesShown } from '../coverage.fixture.js';
import { MUTATION_TIME, tryMutated } from '../mutated.fixture.js';
import { decodeGdl90, GDL90_COVERAGE } from './decodeGdl90.js';
import { framed, HEARTBEAT_FRAME, hexBytes, OWNSHIP_CONTENT } from './gdl90.fixture.js';

const heartbeat = hexBytes(HEARTBEAT_FRAME);
const ownship = hexBytes(OWNSHIP_CONTENT);
const geometric = (high: number, low: number, ...metrics: number[]) => framed(Uint8Array.of(11, high, low, ...metrics));
/** The example report with some bytes replaced, by their number in the message, from 0. */
const withBytes = (changes: Record<number, number>) => framed(ownship.map((byte, index) => changes[index] ?? byte));
const onlyMessage = (datagram: Uint8Array) => {
  const { messages, refused } = decodeGdl90(datagram);
  expect(refused).toEqual([]);
  expect(messages).toHaveLength(1);
  return messages[0];
};

describe('published examples', () => {
  test('the heartbeat of the interface document', () => {
    // 0xD0DB = 53 467 s after midnight; bits of the two status bytes 0x81 and 0x41 as its section on the heartbeat has them.
    expect(onlyMessage(heartbeat)).toEqual({
      kind: 'heartbeat',
      sender: '',
      time: { seconds: 53_467, periodS: 86_400 },
      channels: {},
      fields: { gpsPositionValid: true, utcValid: true, timeOfDayS: 53_467 },
    });
  });

  test('the report of the interface document (from memory)', () => {
    // The example traffic report, from memory: address 52642511 octal, 44.90708° N, 122.99488° W, 5000 ft, airborne with true track,
    // NIC 10, NACp 9, 123 kt at 45°, climbing 64 ft/min, light aeroplane N825V. A step of position is 0.00002°.
    const { channels, fields } = onlyMessage(framed(ownship)) ?? {};
    expect(fields).toEqual({
      addressType: 0,
      address: 0o52642511,
      latitudeDeg: expect.closeTo(44.90708, 4),
      longitudeDeg: expect.closeTo(-122.99488, 4),
      pressureAltitudeFt: 5000,
      airborne: true,
      extrapolated: false,
      trueTrackDeg: 45,
      integrityCategory: 10,
      accuracyCategory: 9,
      groundspeedKt: 123,
      verticalSpeedFpm: 64,
      emitterCategory: 1,
      callSign: 'N825V',
      emergencyCode: 0,
    });
    expect(channels).toEqual({
      latitudeDeg: expect.closeTo(44.90708, 4),
      longitudeDeg: expect.closeTo(-122.99488, 4),
      groundspeedKt: 123,
      trackDeg: 45,
      verticalSpeedFpm: 64,
      onGround: false,
    });
  });

  // From memory of its section on geometric altitude: a signed number of 5 ft.
  test.each([
    [-1000, 0xff, 0x38],
    [0, 0x00, 0x00],
    [1000, 0x00, 0xc8],
  ])('geometric altitude %d ft (from memory)', (feet, high, low) => {
    expect(onlyMessage(geometric(high, low, 0x00, 0x0a))).toMatchObject({
      channels: { altitudeFt: feet },
      fields: { ellipsoidHeightFt: feet, verticalWarning: false, verticalAccuracyM: 10 },
    });
  });
});

test('a geometric altitude warns, and may not know how exact it is', () => {
  expect(onlyMessage(geometric(0, 0xc8, 0x80, 0x0a))?.fields).toMatchObject({
    verticalWarning: true,
    verticalAccuracyM: 10,
  });
  expect(onlyMessage(geometric(0, 0xc8, 0x7f, 0xfe))?.fields).not.toHaveProperty('verticalAccuracyM');
  expect(onlyMessage(geometric(0, 0xc8, 0x7f, 0xff))?.fields).toMatchObject({ verticalWarning: false });
});

test('the emergency code is the upper half of the last byte, address type the lower half of the second', () => {
  expect(onlyMessage(withBytes({ 1: 0x13, 27: 0x2f }))?.fields).toMatchObject({ addressType: 3, emergencyCode: 2 });
});

describe('what a report does not know is missing', () => {
  const fieldsOf = (changes: Record<number, number>) => onlyMessage(withBytes(changes))?.fields;
  test.each([
    ['altitude 0xFFF', { 11: 0xff, 12: 0xf9 }, 'pressureAltitudeFt'],
    ['ground speed 0xFFF', { 14: 0xff, 15: 0xf0 }, 'groundspeedKt'],
    ['ground speed off the scale, 0xFFE', { 14: 0xff, 15: 0xe0 }, 'groundspeedKt'],
    ['vertical speed 0x800', { 15: 0xb8, 16: 0x00 }, 'verticalSpeedFpm'],
    ['climb off the scale, 0x1FE', { 15: 0xb1, 16: 0xfe }, 'verticalSpeedFpm'],
    ['descent off the scale, 0xE02', { 15: 0xbe, 16: 0x02 }, 'verticalSpeedFpm'],
    ['no direction', { 12: 0x08 }, 'trueTrackDeg'],
    ['a call sign of other characters', { 19: 0x00 }, 'callSign'],
    ['no call sign', { 19: 0x20, 20: 0x20, 21: 0x20, 22: 0x20, 23: 0x20 }, 'callSign'],
  ] as const)('%s', (_, changes, field) => {
    expect(onlyMessage(framed(ownship))?.fields).toHaveProperty(field);
    expect(fieldsOf(changes)).not.toHaveProperty(field);
  });

  test('position and integrity all zero: no position', () => {
    const nowhere = { 5: 0, 6: 0, 7: 0, 8: 0, 9: 0, 10: 0 };
    expect(onlyMessage(withBytes({ ...nowhere, 13: 0x09 }))?.channels).not.toHaveProperty('latitudeDeg');
    expect(onlyMessage(withBytes(nowhere))?.channels).toMatchObject({ latitudeDeg: 0, longitudeDeg: 0 });
  });

  test('the clock without valid UTC, or past the end of the day', () => {
    expect(onlyMessage(framed(hexBytes('00 81 40 DB D0 08 02')))).not.toHaveProperty('time');
    expect(onlyMessage(framed(hexBytes('00 81 81 81 51 08 02')))).not.toHaveProperty('time'); // 0x15181 = 86 401
    expect(onlyMessage(framed(hexBytes('00 81 81 80 51 08 02')))).toMatchObject({ time: { seconds: 86_400 } });
  });
});

test.each([
  [1, { trackDeg: 45 }, 'headingDeg'],
  [2, {}, 'headingDeg'], // magnetic: a sample's heading is true
  [3, { headingDeg: 45 }, 'trackDeg'],
] as const)('direction of type %d', (type, channels, absent) => {
  const message = onlyMessage(withBytes({ 12: 0x08 | type }));
  expect(message?.channels).toMatchObject(channels);
  expect(message?.channels).not.toHaveProperty(absent);
});

describe('framing', () => {
  test('several messages, with shared flags or their own, others passed over', () => {
    const shared = [...heartbeat.subarray(0, -1), ...framed(ownship)];
    const foreign = framed(Uint8Array.of(7, 1, 2, 3));
    const { messages, refused, passedOver } = decodeGdl90(Uint8Array.from([...shared, ...foreign, ...heartbeat]));
    expect(messages.map(({ kind }) => kind)).toEqual(['heartbeat', 'ownshipReport', 'heartbeat']);
    expect({ refused, passedOver }).toEqual({ refused: [], passedOver: 1 });
  });

  test('stuffed bytes', () => {
    const content = ownship.map((byte, index) => (index === 2 ? 0x7e : index === 3 ? 0x7d : byte));
    const datagram = framed(content);
    expect(datagram).toHaveLength(framed(ownship).length + 2);
    expect(onlyMessage(datagram)?.fields).toMatchObject({ address: 0x7e7d49 });
  });

  test.each([
    ['no bytes', '', 'empty'],
    ['nothing but flags', '7E 7E', 'empty'],
    ['no flag', '00 81 41', 'no-start'],
    ['no end flag', HEARTBEAT_FRAME.slice(0, -3), 'cut-off'],
    ['no room for a check sum', '7E 00 81 7E', 'cut-off'],
    ['a wrong byte', HEARTBEAT_FRAME.replace('DB', 'DA'), 'checksum'],
    ['an escape before the end', '7E 00 81 7D 7E', 'escape'],
  ])('%s is refused', (_, hex, reason) => {
    const datagram = hex === '' ? new Uint8Array() : hexBytes(hex);
    expect(decodeGdl90(datagram)).toEqual({ messages: [], refused: [{ reason }], passedOver: 0 });
  });

  test('a message of another length is refused, and the next one read', () => {
    const datagram = Uint8Array.from([...framed(ownship.subarray(0, 27)), ...heartbeat]);
    const { messages, refused } = decodeGdl90(datagram);
    expect(refused).toEqual([{ reason: 'length', kind: 'ownshipReport' }]);
    expect(messages).toHaveLength(1);
  });

  test('a height that no sample holds is left out and named', () => {
    expect(decodeGdl90(geometric(0x7f, 0xff, 0, 0)).refused).toEqual([
      { reason: 'out-of-range', kind: 'ownshipGeometricAltitude', field: 'altitudeFt' },
    ]);
  });
});

test('every report that can be encoded is read as it was meant', () => {
  const report = fc.record({
    latitude: fc.integer({ min: -(2 ** 22), max: 2 ** 22 }),
    longitude: fc.integer({ min: -(2 ** 23), max: 2 ** 23 - 1 }),
    altitude: fc.integer({ min: 0, max: 0xffe }),
    airborne: fc.boolean(),
    track: fc.integer({ min: 0, max: 255 }),
    speed: fc.integer({ min: 0, max: 500 }),
    climb: fc.integer({ min: -460, max: 460 }),
  });
  fc.assert(
    fc.property(report, ({ latitude, longitude, altitude, airborne, track, speed, climb }) => {
      const field = (value: number, bits: number) => ((value + 2 ** bits) % 2 ** bits).toString(2).padStart(bits, '0');
      const bits = [
        field(10, 8),
        field(0, 8),
        field(0xabcdef, 24),
        field(latitude, 24),
        field(longitude, 24),
        field(altitude, 12),
        airborne ? '1001' : '0001',
        field(0xa9, 8),
        field(speed, 12),
        field(climb, 12),
        field(track, 8),
        field(1, 8),
        ...[...'INVENTED'].map((letter) => field(letter.charCodeAt(0), 8)),
        field(0, 8),
      ].join('');
      const content = Uint8Array.from(bits.match(/.{8}/g) ?? [], (byte) => Number.parseInt(byte, 2));
      expect(onlyMessage(framed(content))).toMatchObject({
        channels: {
          latitudeDeg: expect.closeTo((latitude / 2 ** 23) * 180, 9),
          longitudeDeg: expect.closeTo((longitude / 2 ** 23) * 180, 9),
          groundspeedKt: speed,
          trackDeg: expect.closeTo((track / 256) * 360, 9),
          verticalSpeedFpm: climb * 64,
          onGround: !airborne,
        },
        fields: { pressureAltitudeFt: altitude * 25 - 1000, address: 0xabcdef, callSign: 'INVENTED' },
      });
    }),
  );
});

test('the coverage table names just what the messages fill', () => {
  const datagrams = [heartbeat, framed(ownship), withBytes({ 12: 0x0b }), geometric(0, 0xc8, 0, 10)];
  const messages = datagrams.flatMap((datagram) => decodeGdl90(datagram).messages);
  expect(sourcesShown(messages)).toEqual(sourcesClaimed(GDL90_COVERAGE));
});

test('damaged datagrams: no throw, nothing that is not finite or out of bounds', MUTATION_TIME, () => {
  const contents = [hexBytes('00 81 41 DB D0 08 02'), ownship, hexBytes('0B 00 C8 00 0A')];
  const tally = tryMutated({ decode: decodeGdl90, datagrams: contents.map(framed), contents, wrap: framed });
  expect(tally.read).toBeGreaterThan(tally.count / 20);
  expect(tally.refused).toBeGreaterThan(tally.count / 20);
});
