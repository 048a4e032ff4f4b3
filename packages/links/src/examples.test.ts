// The example profiles work as they stand: what an encoder written from them sends comes out in the channels' units.
import { readdirSync } from 'node:fs';
import { type LinkProfile, SAMPLE_CHANNELS } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createDecoder, createPartDecoder } from './decode.js';
import { encodeRow } from './encoders.fixture.js';
import { linkSet, linkSetProblem } from './linkSet.js';
import { fixtureProfile } from './links.fixture.js';
import { linkProfileProblem } from './profileProblem.js';

const names = readdirSync(new URL('../../../fixtures/links/', import.meta.url)).map((file) =>
  file.replace('.json', ''),
);
const bytes = (text: string) => new TextEncoder().encode(text);
const keyValue = fixtureProfile('example-key-value');
const binary = fixtureProfile('example-binary-records');
const header = fixtureProfile('example-header-line');
const lines = fixtureProfile('example-tcp-lines');
const second = fixtureProfile('example-second-link');

test.each(names)('%s is a profile that works', (name) => {
  expect(linkProfileProblem(fixtureProfile(name))).toBeNull();
});

test.each(names.filter((name) => name !== 'example-second-link'))(
  '%s can be flown, with the links it names',
  (name) => {
    const set = linkSet(fixtureProfile(name), names.map(fixtureProfile));
    expect(set.ok ? linkSetProblem(set.profiles) : set.problem).toBeNull();
  },
);

/** A raw value for each slot that the profile reads, in the slot's unit and inside the bounds whatever the unit. */
function anyRaw(profile: LinkProfile): fc.Arbitrary<Record<string, number>> {
  const slots = SAMPLE_CHANNELS.flatMap((channel) => profile.channels[channel]?.slot ?? []);
  const value = fc.oneof(
    fc.constantFrom(0, 1, 0.5),
    fc.double({ min: 0, max: 1, noNaN: true }).map((x) => Number(x.toFixed(6))),
  );
  return fc.record(Object.fromEntries(slots.map((slot) => [String(slot), value])));
}

describe.each([keyValue, binary, header, lines, second])('$id', (profile) => {
  test('every number comes back by scale, offset, clamp and unit, from whatever was sent', () => {
    const decode = createPartDecoder({ ...profile, derived: [] });
    const named = SAMPLE_CHANNELS.flatMap((channel) => profile.channels[channel]?.slot ?? []);
    if (profile.decoder.kind === 'delimited' && profile.decoder.header === true) decode(bytes(`${named.join('\t')}\n`));
    fc.assert(
      fc.property(anyRaw(profile), (raw) => {
        const message = encodeRow(profile, raw);
        const decoded = decode(message, 5);
        if (!decoded.ok) throw new Error(`${decoded.code} ${decoded.channel}`);
        expect(decoded.faults).toEqual([]);
        for (const channel of SAMPLE_CHANNELS) {
          const source = profile.channels[channel];
          if (source === undefined) continue;
          const sent = integral(profile, String(source.slot), raw[String(source.slot)] ?? Number.NaN);
          const value = sent * source.scale + source.offset;
          const expected = (value * (FACTORS[source.unit] ?? Number.NaN)) / (FACTORS[UNIT_OF(channel)] ?? Number.NaN);
          const got = decoded.samples[0]?.[channel];
          if (typeof got === 'boolean') expect(got).toBe(expected >= 0.5);
          else expect(got).toBeCloseTo(expected, 6);
        }
      }),
    );
  });
});

// Written anew here, from the definitions: foot 0.3048 m, knot 1852 m/h, free fall 9.80665 m/s².
const FACTORS: Readonly<Record<string, number>> = {
  s: 1,
  ms: 0.001,
  m: 1,
  ft: 0.3048,
  deg: 1,
  rad: 180 / Math.PI,
  turns: 360,
  kt: 1852 / 3600,
  'm/s': 1,
  'km/h': 1 / 3.6,
  'm/min': 1 / 60,
  'ft/min': 0.3048 / 60,
  g: 9.80665,
  'm/s2': 1,
  rpm: 1,
  fraction: 1,
  percent: 0.01,
  bool: 1,
};
const UNIT_OF = (channel: string) =>
  [
    [/Ft$/, 'ft'],
    [/Kt$/, 'kt'],
    [/Deg$/, 'deg'],
    [/Fpm$/, 'ft/min'],
    [/Rpm$/, 'rpm'],
    [/Fraction$/, 'fraction'],
    [/^loadFactor$/, 'g'],
    [/^timeS$/, 's'],
    [/./, 'bool'],
  ].find(([pattern]) => (pattern as RegExp).test(channel))?.[1] as string;

/** A whole-number field holds what was sent rounded. */
function integral(profile: LinkProfile, slot: string, value: number): number {
  const { decoder } = profile;
  const field = decoder.kind === 'binary' ? decoder.fields.find(({ name }) => name === slot) : undefined;
  return field !== undefined && !field.type.startsWith('float') ? Math.round(value) : value;
}

describe('text of names with values', () => {
  const decode = createPartDecoder(keyValue);
  test('decimal comma, another order, spaces, unknown names and left bank', () => {
    const decoded = decode(bytes(' lon=-1,5 ; t=12,5;fuel=full;lat=52,25;left_bank=10;power=104;ground=false;;=3'));
    expect(decoded).toMatchObject({ ok: true, faults: [] });
    expect(decoded.ok && decoded.samples[0]).toEqual({
      timeS: 12.5,
      latitudeDeg: 52.25,
      longitudeDeg: -1.5,
      bankDeg: -10,
      powerFraction: 1, // clamped to 100 %
      onGround: false,
    });
  });
  test('all lines of a message are one sample where the profile says so', () => {
    const profile: LinkProfile = {
      ...keyValue,
      decoder: {
        kind: 'keyValue',
        pairSeparator: ';',
        keySeparator: ':',
        decimal: '.',
        samplePer: 'message',
        startsWith: 'N:',
      },
    };
    const decoded = createPartDecoder(profile)(bytes('N:t: 3\r\nN:lat: 52;lon: 1\nlon: 9\r\n'));
    expect(decoded.ok && decoded.samples).toEqual([{ timeS: 3, latitudeDeg: 52, longitudeDeg: 1 }]);
  });
  test('names of the prototype are names like any other', () => {
    expect(decode(bytes('__proto__=1;constructor=2;toString=3'))).toEqual({ ok: true, faults: [], samples: [{}] });
  });
});

describe('a header line', () => {
  const columns = 'Seconds Lat Lon Alt Airspeed Heading Bank Pitch Climb Rpm'.split(' ');
  const row = (second: number) => [second, 52, -1, 900, 80, 240, 0, 5, 100, 2400];
  test('is awaited, names the columns in any order, and may change on the way', () => {
    const decode = createDecoder(header);
    expect(decode(bytes(row(1).join('\t')))).toEqual({ ok: false, code: 'no-header' });
    const turned = [...columns].reverse();
    const mixed = `Other\t${turned.join('\t')}\nx\t${row(2).reverse().join('\t')}\n`;
    expect(decode(bytes(mixed))).toMatchObject({ ok: true, faults: [], samples: [{ timeS: 2, engineRpm: 2400 }] });
    const again = `${columns.join('\t')}\n${row(3).join('\t')}\n`;
    expect(decode(bytes(again))).toMatchObject({ ok: true, samples: [{ timeS: 3, altitudeFt: 900 }] });
  });
  test('that lacks a name is none', () => {
    const decode = createDecoder(header);
    expect(decode(bytes(`${columns.slice(0, -1).join('\t')}\n`))).toEqual({ ok: false, code: 'no-header' });
  });
});

describe('columns padded with spaces', () => {
  test('read by name, other lines passed over, time by arrival, the newest of several', () => {
    const decode = createPartDecoder(lines);
    const decoded = decode(
      bytes('POS   52.5   -1.25    900     80   240\nMSG   hello\nPOS 52.6 -1.25 910 81 241\n'),
      77.5,
    );
    expect(decoded).toMatchObject({ ok: true, samples: [{ timeS: 77.5, latitudeDeg: 52.6, trackDeg: 241 }] });
    expect(decoded.ok && decoded.samples).toHaveLength(1);
  });
  test('a time that is none is refused', () => {
    expect(createPartDecoder(lines)(bytes('POS 52 -1 900 80 240'))).toMatchObject({
      faults: [{ code: 'out-of-range', channel: 'timeS' }],
    });
  });
});

describe('binary records', () => {
  const decode = createPartDecoder(binary);
  const values = { clock: 61_500, '1/a': 52, '1/b': -1, '1/c': 304.8, '3/b': 0.1, '9/a': 5 };
  const message = encodeRow(binary, values);
  test('are found by their index, wherever they stand', () => {
    expect(decode(message)).toMatchObject({
      ok: true,
      faults: [],
      samples: [{ timeS: 61.5, latitudeDeg: 52, longitudeDeg: -1, altitudeFt: expect.closeTo(1000, 9) }],
    });
  });
  test('a record cut short is left out, the others stay', () => {
    const decoded = decode(message.slice(0, -1));
    expect(decoded.ok && decoded.samples[0]).toMatchObject({ timeS: 61.5 });
    expect(decoded.ok && decoded.samples[0]).not.toHaveProperty('latitudeDeg');
  });
  test('a message that does not begin as declared is passed over', () => {
    const other = message.slice();
    other[4] = 2;
    expect(decode(other)).toEqual({ ok: false, code: 'no-sample' });
    expect(decode(message.slice(0, 3))).toEqual({ ok: false, code: 'no-sample' });
  });
  test('bytes in the middle of a larger buffer are read from their own start', () => {
    const larger = new Uint8Array(message.length + 7);
    larger.set(message, 7);
    expect(decode(larger.subarray(7))).toEqual(decode(message));
  });
  test('a number that is none is refused by name, and its neighbours stay', () => {
    const decoded = decode(encodeRow(binary, { ...values, '1/c': Number.NaN }));
    expect(decoded).toMatchObject({ ok: true, faults: [{ code: 'out-of-range', channel: 'altitudeFt' }] });
  });
});
