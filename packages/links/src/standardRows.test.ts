// Open standards through a profile: messages that tell parts become samples in step with positions, from one sender.
import type { LinkProfile } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createPartDecoder } from './decode.js';
import { framed, hexBytes, OWNSHIP_CONTENT } from './gdl90/gdl90.fixture.js';
import { fixtureProfile } from './links.fixture.js';
import { fromHex, LIBRARY } from './mavlink2/libraryPackets.fixture.js';
import { linkProfileProblem } from './profileProblem.js';

const text = (...bodies: string[]) => {
  const sentences = bodies.map((body) => {
    const sum = [...body].reduce((xor, letter) => xor ^ letter.charCodeAt(0), 0);
    return `$${body}*${sum.toString(16).toUpperCase().padStart(2, '0')}\r\n`;
  });
  return new TextEncoder().encode(sentences.join(''));
};
const gga = (second: number) =>
  `GPGGA,1200${String(second).padStart(2, '0')},5200.000,N,00100.000,W,1,08,1.0,304.8,M,48.0,M,,`;
const rmc = (second: number) =>
  `GPRMC,1200${String(second).padStart(2, '0')},A,5200.000,N,00100.000,W,80.0,240.0,251126,,`;

describe('NMEA 0183', () => {
  const bare = (): LinkProfile => ({ ...fixtureProfile('standard-nmea-0183'), derived: [] });
  test('each new position is a sample; what came with it before stands beside it for a while', () => {
    const decode = createPartDecoder(bare());
    const first = decode(text(gga(1)), 10);
    expect(first.ok && first.samples).toEqual([
      { timeS: 43_201, latitudeDeg: 52, longitudeDeg: -1, altitudeFt: expect.closeTo(1000, 6) },
    ]);
    expect(decode(text(rmc(1)), 10.1)).toEqual({ ok: false, code: 'kept' });
    expect(decode(text(gga(2)), 11)).toMatchObject({ samples: [{ timeS: 43_202, groundspeedKt: 80, trackDeg: 240 }] });
    const late = decode(text(gga(4)), 13);
    expect(late.ok && late.samples[0]).not.toHaveProperty('groundspeedKt');
  });
  test('both sentences in one datagram are one sample', () => {
    const decode = createPartDecoder(bare());
    decode(text(gga(1), rmc(1)), 10);
    const decoded = decode(text(gga(2), rmc(2)), 11);
    expect(decoded.ok && decoded.samples).toHaveLength(1);
  });
  test('a sum that does not fit is damage', () => {
    const broken = text(gga(1));
    broken[10] = (broken[10] ?? 0) ^ 1;
    expect(createPartDecoder(bare())(broken, 1)).toEqual({ ok: false, code: 'damaged' });
  });
  test('a field of a sentence is a slot too', () => {
    const profile = bare();
    const channels = {
      ...profile.channels,
      heightFt: { slot: 'GGA.geoidSeparationM', unit: 'm', scale: 1, offset: 0 } as const,
    };
    const decoded = createPartDecoder({ ...profile, channels })(text(gga(1)), 1);
    expect(decoded.ok && decoded.samples[0]?.heightFt).toBeCloseTo(48 / 0.3048, 6);
  });
});

describe('GDL 90', () => {
  test('an ownship report is a sample by the time of its arrival', () => {
    const decode = createPartDecoder(fixtureProfile('standard-gdl90'));
    expect(decode(framed(hexBytes(OWNSHIP_CONTENT)), 77)).toMatchObject({
      ok: true,
      samples: [{ timeS: 77, latitudeDeg: expect.closeTo(44.9071, 3), longitudeDeg: expect.closeTo(-122.995, 3) }],
    });
  });
});

describe('MAVLink 2', () => {
  const profile = fixtureProfile('standard-mavlink-2');
  const of = (kind: string, sender: string) => {
    const frame = LIBRARY.frames.find((each) => each.kind === kind && each.sender === sender);
    if (frame === undefined) throw new Error(`the library sent no ${kind} as ${sender}`);
    return { bytes: fromHex(frame.hex), sent: frame.sent };
  };
  const attitude = of('ATTITUDE', '238:255');
  const position = of('GLOBAL_POSITION_INT', '238:255');
  const other = of('GLOBAL_POSITION_INT', '199:101');
  test('attitude is kept until a position of the same system comes', () => {
    const decode = createPartDecoder(profile);
    expect(decode(attitude.bytes, 5)).toEqual({ ok: false, code: 'kept' });
    const decoded = decode(position.bytes, 5.1);
    expect(decoded).toMatchObject({
      ok: true,
      samples: [
        { latitudeDeg: expect.closeTo(-37.954_222, 6), bankDeg: expect.closeTo((0.0386814 * 180) / Math.PI, 3) },
      ],
    });
    expect(decode(other.bytes, 5.2)).toEqual({ ok: false, code: 'no-sample' });
  });
  test('the system that the profile names is followed, whoever is heard first', () => {
    const decode = createPartDecoder({ ...profile, decoder: { kind: 'mavlink2', systemId: 199 } });
    expect(decode(position.bytes, 1)).toEqual({ ok: false, code: 'no-sample' });
    expect(decode(other.bytes, 1)).toMatchObject({ ok: true });
  });
  test('a link that reads no position gives each message as it comes', () => {
    const { bankDeg, pitchDeg } = profile.channels;
    const decode = createPartDecoder({ ...profile, channels: { bankDeg, pitchDeg }, supplement: true });
    const decoded = decode(attitude.bytes, 1);
    expect(decoded.ok && Object.keys(decoded.samples[0] ?? {}).sort()).toEqual(['bankDeg', 'pitchDeg']);
    expect(decode(position.bytes, 1)).toEqual({ ok: false, code: 'kept' });
  });
});

test('a slot that the standard does not tell is refused by name', () => {
  const profile = fixtureProfile('standard-nmea-0183');
  const channels = { ...profile.channels, bankDeg: { slot: 'bankDeg', unit: 'deg', scale: 1, offset: 0 } as const };
  expect(linkProfileProblem({ ...profile, channels })?.message).toBe(
    'channels.bankDeg.slot must be timeS, latitudeDeg, longitudeDeg, altitudeFt, groundspeedKt, trackDeg, or <message>.<field> of NMEA 0183, got "bankDeg"',
  );
});

test.each(['standard-gdl90', 'standard-nmea-0183', 'standard-entity-state', 'standard-mavlink-2'])(
  '%s takes any bytes without harm',
  (name) => {
    const decode = createPartDecoder(fixtureProfile(name));
    let arrivalTimeS = 0;
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (datagram) => {
        arrivalTimeS += 0.05;
        const decoded = decode(datagram, arrivalTimeS);
        if (!decoded.ok) expect(decoded.code).toMatch(/^[a-z-]+$/);
      }),
      { numRuns: 500 },
    );
  },
);
