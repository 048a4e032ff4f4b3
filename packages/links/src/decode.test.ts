// Decoding: units, missing channels, bad values, several lines, and bytes of every kind.
import { type LinkProfile, Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createDecoder } from './decode.js';
import { fixtureProfile } from './links.fixture.js';

const text = fixtureProfile('stand-in-text');
const json = fixtureProfile('stand-in-json');
const bytes = (string: string) => new TextEncoder().encode(string);
const GOOD = 'SP1,1,52,-1,1000,,90,,,,238,0,5,1200,,,,,,,';
const withField = (index: number, value: string) => {
  const fields = GOOD.split(',');
  fields[index] = value;
  return bytes(fields.join(','));
};

/** A profile of metric text with a decimal comma, as a simulator of another maker might send. */
const metric: LinkProfile = {
  ...text,
  decoder: { kind: 'delimited', separator: ';', decimal: ',' },
  channels: {
    timeS: { slot: 0, unit: 'ms', scale: 1, offset: 0 },
    latitudeDeg: { slot: 1, unit: 'deg', scale: 1, offset: 0 },
    longitudeDeg: { slot: 2, unit: 'deg', scale: 1, offset: 0 },
    altitudeFt: { slot: 3, unit: 'm', scale: 1, offset: 0 },
    indicatedAirspeedKt: { slot: 4, unit: 'km/h', scale: 1, offset: 0 },
    trueAirspeedKt: { slot: 4, unit: 'mph', scale: 1, offset: 0 },
    headingDeg: { slot: 5, unit: 'rad', scale: 1, offset: 0 },
    bankDeg: { slot: 6, unit: 'deg', scale: -1, offset: 0 },
    pitchDeg: { slot: 7, unit: 'deg', scale: 1, offset: 0.5 },
    verticalSpeedFpm: { slot: 8, unit: 'm/s', scale: 1, offset: 0 },
    onGround: { slot: 9, unit: 'bool', scale: -1, offset: 1 },
  },
};

describe('units', () => {
  test('converts by the exact definitions of foot, knot and statute mile', () => {
    const decoded = createDecoder(metric)(bytes('61500;52,5;-1,25;304,8;185,2;3,141592653589793;-10;7;5,08;1'));
    // 304.8 m = 1000 ft and 185.2 km/h = 100 kt by definition; 185.2 mph = 185.2 × 1609.344 / 1852 kt; 5.08 m/s = 1000 ft/min
    expect(decoded).toMatchObject({
      ok: true,
      samples: [
        {
          timeS: 61.5,
          latitudeDeg: 52.5,
          longitudeDeg: -1.25,
          altitudeFt: expect.closeTo(1000, 9),
          indicatedAirspeedKt: expect.closeTo(100, 9),
          trueAirspeedKt: expect.closeTo(160.9344, 9),
          headingDeg: expect.closeTo(180, 9),
          bankDeg: 10,
          pitchDeg: 7.5,
          verticalSpeedFpm: expect.closeTo(1000, 9),
          onGround: false,
        },
      ],
    });
  });
});

describe('refusals', () => {
  const decode = createDecoder(text);
  test.each([
    ['no bytes', new Uint8Array(), 'empty', undefined],
    ['no UTF-8', new Uint8Array([0x53, 0xff, 0xfe]), 'not-text', undefined],
    ['a line of another tag', bytes('XX,1,2'), 'no-sample', undefined],
    ['a line that breaks off', bytes('SP1,1,52,-1'), 'missing-channel', 'altitudeFt'],
    ['an empty required field', withField(6, ''), 'missing-channel', 'indicatedAirspeedKt'],
    ['a required field that is no number', withField(4, '12a'), 'not-a-number', 'altitudeFt'],
    ['NaN written out', withField(4, 'NaN'), 'not-a-number', 'altitudeFt'],
    ['infinity', withField(13, '1e999'), 'out-of-range', 'verticalSpeedFpm'],
    ['a latitude beyond the pole', withField(2, '90.1'), 'out-of-range', 'latitudeDeg'],
    ['a time before the start', withField(1, '-1'), 'out-of-range', 'timeS'],
  ])('%s', (_, datagram, code, channel) => {
    expect(decode(datagram)).toEqual({ ok: false, code, ...(channel === undefined ? {} : { channel }) });
  });

  test.each([
    ['an empty list', '[]', 'missing-channel'],
    ['a number', '12', 'not-json'],
    ['half an object', '{"clock":', 'not-json'],
    ['text where a number belongs', '{"clock":{"seconds":"1"}}', 'not-a-number'],
    ['a path that ends early', '{"clock":1}', 'missing-channel'],
    ['keys of the prototype', '{"__proto__":{"clock":{"seconds":1}}}', 'missing-channel'],
  ])('JSON: %s', (_, datagram, code) => {
    expect(createDecoder(json)(bytes(datagram))).toMatchObject({ ok: false, code });
  });
});

describe('optional channels', () => {
  const decode = createDecoder(text);
  test('stay absent where they are absent', () => {
    const decoded = decode(bytes(GOOD));
    expect(decoded).toMatchObject({ ok: true, faults: [] });
    expect(decoded.ok && decoded.samples[0]).not.toHaveProperty('heightFt');
  });
  test.each([
    ['no number', 'up', 'not-a-number'],
    ['out of range', '9e9', 'out-of-range'],
  ])('are left out and named when %s', (_, value, code) => {
    const decoded = decode(withField(5, value));
    expect(decoded).toMatchObject({ ok: true, faults: [{ code, channel: 'heightFt' }] });
    expect(decoded.ok && decoded.samples[0]).not.toHaveProperty('heightFt');
  });
  test('a lever that rounds past its stop is at its stop', () => {
    const decoded = decode(withField(17, '1.0000002'));
    expect(decoded).toMatchObject({ ok: true, faults: [], samples: [{ gearFraction: 1 }] });
  });
});

test('several lines in a datagram are several samples, and a bad line spoils only itself', () => {
  const decoded = createDecoder(text)(
    bytes(`${GOOD}\nXX,passed over\r\nSP1,broken\n${GOOD.replace('SP1,1', 'SP1,2')}\n`),
  );
  expect(decoded).toMatchObject({
    ok: true,
    samples: [{ timeS: 1 }, { timeS: 2 }],
    faults: [{ code: 'not-a-number', channel: 'timeS' }],
  });
});

test('any bytes are either refused by a code or give samples within the schema', () => {
  const decoders = [text, json, metric].map((profile) => createDecoder(profile));
  const mangled = fc
    .tuple(
      fc.constantFrom(GOOD, '{"clock":{"seconds":1},"place":{}}'),
      fc.nat(80),
      fc.string({ unit: 'binary', maxLength: 4 }),
    )
    .map(([line, at, middle]) => bytes(line.slice(0, at) + middle + line.slice(at + 1)));
  fc.assert(
    fc.property(fc.oneof(fc.uint8Array({ maxLength: 300 }), mangled), (datagram) => {
      for (const decode of decoders) {
        const decoded = decode(datagram);
        if (!decoded.ok) expect(decoded.code).toMatch(/^[a-z-]+$/);
        else for (const sample of decoded.samples) expect(Sample.safeParse(sample).success).toBe(true);
      }
    }),
    { numRuns: 1000 },
  );
});
