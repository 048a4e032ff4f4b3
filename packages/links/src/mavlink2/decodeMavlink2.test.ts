// MAVLink 2 against packets of a registry library, the guide's own rules, every encodable message, and damage.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sourcesClaimed, sourcesShown } from '../coverage.fixture.js';
import { MUTATION_TIME, tryMutated } from '../mutated.fixture.js';
import { decodeMavlink2, MAVLINK2_COVERAGE } from './decodeMavlink2.js';
import { crcOf, fromHex, LIBRARY, packet } from './libraryPackets.fixture.js';
import { MAVLINK_KINDS } from './messages.js';

const DEG = 180 / Math.PI;
const KT = 1852 / 3600; // m/s
const FPM = 0.3048 / 60; // m/s

const onlyMessage = (datagram: Uint8Array) => {
  const { messages, refused } = decodeMavlink2(datagram);
  expect(refused).toEqual([]);
  expect(messages).toHaveLength(1);
  return messages[0];
};
const firstOf = (kind: string) => fromHex(LIBRARY.frames.find((frame) => frame.kind === kind)?.hex ?? '');
const anAttitude = firstOf('ATTITUDE');

/** What a message must say of values under the library's names, worked out from the units of the public definitions. */
const expected: Record<string, (sent: Readonly<Record<string, number>>) => object> = {
  ATTITUDE: ({ roll = 0, pitch = 0, yaw = 0, rollspeed, pitchspeed, yawspeed }) => ({
    channels: {
      bankDeg: expect.closeTo(roll * DEG, 9),
      pitchDeg: expect.closeTo(pitch * DEG, 9),
      headingDeg: expect.closeTo((yaw * DEG + 360) % 360, 9),
    },
    fields: { rollRad: roll, rollRateRadps: rollspeed, pitchRateRadps: pitchspeed, yawRateRadps: yawspeed },
  }),
  GLOBAL_POSITION_INT: ({ lat = 0, lon = 0, alt = 0, relativeAlt = 0, vx = 0, vy = 0, vz = 0 }) => ({
    channels: {
      latitudeDeg: expect.closeTo(lat / 1e7, 9),
      longitudeDeg: expect.closeTo(lon / 1e7, 9),
      altitudeFt: expect.closeTo(alt / 304.8, 6),
      groundspeedKt: expect.closeTo(Math.hypot(vx, vy) / 100 / KT, 9),
      verticalSpeedFpm: expect.closeTo(-vz / 100 / FPM, 9),
    },
    fields: { heightAboveHomeM: relativeAlt / 1000, northMps: vx / 100, eastMps: vy / 100 },
  }),
  VFR_HUD: ({ airspeed = 0, groundspeed, alt, climb, heading, throttle }) => ({
    channels: { indicatedAirspeedKt: expect.closeTo(airspeed / KT, 9) },
    fields: {
      groundspeedMps: groundspeed,
      altitudeM: alt,
      climbMps: climb,
      headingDeg: heading,
      throttlePercent: throttle,
    },
  }),
  SYSTEM_TIME: ({ timeUnixUsec = 0 }) => ({
    channels: {},
    fields: { unixTimeS: expect.closeTo(timeUnixUsec / 1e6, 5) },
  }),
};

describe('packets of the library node-mavlink', () => {
  test('cover every kind, signed and not', () => {
    for (const { kind } of MAVLINK_KINDS.values())
      for (const signed of [true, false])
        expect(LIBRARY.frames.some((frame) => frame.kind === kind && frame.signed === signed)).toBe(true);
  });

  test.each(LIBRARY.frames)('$kind of $sender, signed: $signed', ({ kind, sender, sent, hex }) => {
    const message = onlyMessage(fromHex(hex));
    expect(message).toMatchObject({ kind, sender, ...expected[kind]?.(sent) });
    if (sent.timeBootMs === undefined) expect(message).not.toHaveProperty('time');
    else expect(message?.time).toEqual({ seconds: sent.timeBootMs / 1000, periodS: 4_294_967.296 });
    if (sent.hdg !== undefined) {
      if (sent.hdg === 65_535) expect(message?.fields).not.toHaveProperty('headingDeg');
      else expect(message?.fields).toHaveProperty('headingDeg', sent.hdg / 100);
    }
  });

  test('zeros cut off at the end are there again', () => {
    const level = LIBRARY.frames.find(({ sent }) => sent.timeBootMs === 1 && sent.roll === 0);
    expect(fromHex(level?.hex ?? '').length).toBe(10 + 1 + 2);
    expect(onlyMessage(fromHex(level?.hex ?? ''))?.channels).toEqual({ bankDeg: 0, pitchDeg: 0, headingDeg: 0 });
  });

  test('another message is passed over; a packet of version 1 is refused as such', () => {
    expect(decodeMavlink2(fromHex(LIBRARY.heartbeat))).toEqual({ messages: [], refused: [], passedOver: 1 });
    expect(decodeMavlink2(fromHex(LIBRARY.version1)).refused[0]).toEqual({ reason: 'version' });
  });
});

test('track is the direction of the velocity over the ground, and missing at rest', () => {
  const position = (vx: number, vy: number) => {
    const payload = new DataView(new ArrayBuffer(28));
    payload.setInt16(20, vx, true);
    payload.setInt16(22, vy, true);
    return onlyMessage(packet(33, 104, new Uint8Array(payload.buffer)))?.channels;
  };
  expect(position(3000, 0)).toMatchObject({ trackDeg: 0 });
  expect(position(0, -3000)).toMatchObject({ trackDeg: 270 });
  expect(position(20, 20)).not.toHaveProperty('trackDeg');
});

test('the seeds follow from the definitions, by the rule of the guide', () => {
  // MAVLink Developer Guide, "CRC_EXTRA Calculation": name, then type and name of each field in wire order.
  const definitions: Record<string, string> = {
    SYSTEM_TIME: 'uint64_t time_unix_usec uint32_t time_boot_ms',
    ATTITUDE: 'uint32_t time_boot_ms float roll float pitch float yaw float rollspeed float pitchspeed float yawspeed',
    GLOBAL_POSITION_INT:
      'uint32_t time_boot_ms int32_t lat int32_t lon int32_t alt int32_t relative_alt int16_t vx int16_t vy int16_t vz uint16_t hdg',
    VFR_HUD: 'float airspeed float groundspeed float alt float climb int16_t heading uint16_t throttle',
  };
  const bytes: Record<string, number> = { uint64_t: 8, uint32_t: 4, int32_t: 4, float: 4, int16_t: 2, uint16_t: 2 };
  expect(MAVLINK_KINDS.size).toBe(4);
  for (const { kind, crcExtra, payloadBytes } of MAVLINK_KINDS.values()) {
    const definition = definitions[kind] ?? '';
    const crc = crcOf([...`${kind} ${definition} `].map((letter) => letter.charCodeAt(0)));
    expect((crc & 0xff) ^ (crc >> 8), kind).toBe(crcExtra);
    const words = definition.split(' ');
    expect(
      words.reduce((sum, word) => sum + (bytes[word] ?? 0), 0),
      kind,
    ).toBe(payloadBytes);
  }
});

test('every attitude and every speed that can be encoded is read as it was meant', () => {
  const float = (max: number) => fc.float({ min: -max, max, noNaN: true });
  const right = Math.fround(1.5707962512969971); // the single just below π/2
  fc.assert(
    fc.property(
      fc.tuple(fc.integer({ min: 0, max: 2 ** 32 - 1 }), float(3), float(right), float(3)),
      fc.tuple(float(100), float(100), fc.integer({ min: 0, max: 360 })),
      fc.tuple(fc.integer({ min: 1, max: 255 }), fc.integer({ min: 1, max: 255 })),
      ([ms, roll, pitch, yaw], [speed, climb, heading], sender) => {
        const attitude = new DataView(new ArrayBuffer(28));
        attitude.setUint32(0, ms, true);
        [roll, pitch, yaw].forEach((angle, index) => {
          attitude.setFloat32(4 + 4 * index, angle, true);
        });
        const hud = new DataView(new ArrayBuffer(20));
        hud.setFloat32(0, Math.abs(speed), true);
        hud.setFloat32(12, climb, true);
        hud.setInt16(16, heading, true);
        const datagram = Uint8Array.from([
          ...packet(30, 39, new Uint8Array(attitude.buffer), { sender }),
          ...packet(74, 20, new Uint8Array(hud.buffer), { sender }),
        ]);
        const { messages, refused } = decodeMavlink2(datagram);
        expect(refused).toEqual([]);
        const around = (degrees: number) => ((degrees % 360) + 360) % 360;
        expect(messages).toMatchObject([
          {
            sender: sender.join(':'),
            time: { seconds: ms / 1000 },
            channels: {
              bankDeg: expect.closeTo(roll * DEG, 9),
              pitchDeg: expect.closeTo(pitch * DEG, 9),
              headingDeg: expect.closeTo(around(yaw * DEG), 9),
            },
          },
          {
            channels: { indicatedAirspeedKt: expect.closeTo(Math.abs(speed) / KT, 9) },
            fields: { headingDeg: heading },
          },
        ]);
      },
    ),
  );
});

describe('what cannot be right', () => {
  const attitudeOf = (roll: number, pitch: number) => {
    const payload = new DataView(new ArrayBuffer(28));
    payload.setFloat32(4, roll, true);
    payload.setFloat32(8, pitch, true);
    return packet(30, 39, new Uint8Array(payload.buffer));
  };

  test('NaN is missing, for it says unknown', () => {
    expect(onlyMessage(attitudeOf(Number.NaN, 0.1))?.channels).toEqual({
      pitchDeg: expect.closeTo(0.1 * DEG, 5),
      headingDeg: 0,
    });
  });

  test('an angle beyond its bounds is left out and named', () => {
    const { messages, refused } = decodeMavlink2(attitudeOf(0.1, 2));
    expect(refused).toEqual([{ reason: 'out-of-range', kind: 'ATTITUDE', field: 'pitchDeg' }]);
    expect(messages[0]?.channels).toHaveProperty('bankDeg');
  });

  test('a heading or throttle off its scale, and the clock of a sender that has none', () => {
    const hud = (heading: number, throttle: number) => {
      const payload = new DataView(new ArrayBuffer(20));
      payload.setInt16(16, heading, true);
      payload.setUint16(18, throttle, true);
      return onlyMessage(packet(74, 20, new Uint8Array(payload.buffer)))?.fields;
    };
    expect(hud(360, 100)).toMatchObject({ headingDeg: 360, throttlePercent: 100 });
    for (const heading of [-1, 361]) expect(hud(heading, 0)).not.toHaveProperty('headingDeg');
    expect(hud(0, 101)).not.toHaveProperty('throttlePercent');
    expect(onlyMessage(packet(2, 137, new Uint8Array(12)))?.fields).toEqual({ timeSinceBootS: 0 });
  });

  test('an identity of three bytes is another than its lowest', () => {
    expect(decodeMavlink2(packet(30 + 2 ** 16, 39, new Uint8Array(28)))).toMatchObject({ messages: [], passedOver: 1 });
  });

  test.each([
    ['no bytes', new Uint8Array(), [{ reason: 'empty' }]],
    ['other bytes', Uint8Array.of(1, 2, 3), [{ reason: 'no-start' }]],
    ['a header cut off', anAttitude.subarray(0, 9), [{ reason: 'cut-off' }]],
    ['a packet cut off', anAttitude.subarray(0, -1), [{ reason: 'cut-off' }]],
    ['a signature cut off', anAttitude.map((byte, at) => (at === 2 ? 1 : byte)), [{ reason: 'cut-off' }]],
    [
      'a wrong byte',
      anAttitude.map((byte, at) => (at === 15 ? byte ^ 1 : byte)),
      [{ reason: 'checksum', kind: 'ATTITUDE' }],
    ],
    [
      'another definition of the message',
      packet(30, 40, new Uint8Array(28)),
      [{ reason: 'checksum', kind: 'ATTITUDE' }],
    ],
    [
      'a flag that is not known',
      packet(30, 39, new Uint8Array(28), { flags: 2 }),
      [{ reason: 'flags', kind: 'ATTITUDE' }],
    ],
  ])('%s is refused', (_, datagram, refused) => {
    expect(decodeMavlink2(datagram)).toEqual({ messages: [], refused, passedOver: 0 });
  });

  test('a bad packet spoils no other', () => {
    const bad = anAttitude.map((byte, at) => (at === 15 ? byte ^ 1 : byte));
    const bundle = [Uint8Array.of(0, 1), anAttitude, bad, firstOf('VFR_HUD'), fromHex(LIBRARY.heartbeat)];
    const { messages, refused, passedOver } = decodeMavlink2(Uint8Array.from(bundle.flatMap((part) => [...part])));
    expect(messages.map(({ kind }) => kind)).toEqual(['ATTITUDE', 'VFR_HUD']);
    expect(refused).toEqual([{ reason: 'no-start' }, { reason: 'checksum', kind: 'ATTITUDE' }]);
    expect(passedOver).toBe(1);
  });

  test('extensions behind the known fields are let be', () => {
    const longer = new Uint8Array(32).fill(1);
    expect(onlyMessage(packet(30, 39, longer))?.kind).toBe('ATTITUDE');
  });
});

test('the coverage table names just what the messages fill', () => {
  const messages = LIBRARY.frames.flatMap(({ hex }) => decodeMavlink2(fromHex(hex)).messages);
  expect(sourcesShown(messages)).toEqual(sourcesClaimed(MAVLINK2_COVERAGE));
});

test('damaged datagrams: no throw, nothing that is not finite or out of bounds', MUTATION_TIME, () => {
  const frames = LIBRARY.frames.map(({ hex }) => fromHex(hex));
  const unsigned = LIBRARY.frames.filter(({ signed }) => !signed).map(({ hex }) => fromHex(hex));
  const tally = tryMutated({
    decode: decodeMavlink2,
    datagrams: [...frames, Uint8Array.from(frames.flatMap((frame) => [...frame]))],
    // The identity and the payload; wrapped again, the check sum fits.
    contents: unsigned.map((frame) => Uint8Array.from([...frame.subarray(7, 8), ...frame.subarray(10, -2)])),
    wrap: ([messageId = 0, ...payload]) =>
      packet(messageId, MAVLINK_KINDS.get(messageId)?.crcExtra ?? 0, Uint8Array.from(payload)),
  });
  expect(tally.read).toBeGreaterThan(tally.count / 20);
  expect(tally.refused).toBeGreaterThan(tally.count / 20);
});
