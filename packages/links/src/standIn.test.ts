// What the stand-in simulator sends comes out of the decoder as it went in.
import type { Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createDecoder } from './decode.js';
import { anySample, fixtureProfile } from './links.fixture.js';
import { standInJson, standInText } from './standIn.js';

// Half a unit of the last decimal that the text is written with; JSON carries full numbers, so only rounding remains.
const TEXT_TOLERANCE: Partial<Record<keyof Sample, number>> = {
  timeS: 0.0005,
  latitudeDeg: 5e-9,
  longitudeDeg: 5e-9,
  verticalSpeedFpm: 0.05,
  engineRpm: 0.05,
  powerFraction: 0.00005,
  loadFactor: 0.00005,
  gearFraction: 0.00005,
  flapFraction: 0.00005,
};
const OTHERWISE = 0.005;

describe.each([
  {
    name: 'stand-in-text',
    encode: standInText,
    tolerance: (channel: keyof Sample) => TEXT_TOLERANCE[channel] ?? OTHERWISE,
  },
  { name: 'stand-in-json', encode: standInJson, tolerance: () => 1e-7 },
])('$name', ({ name, encode, tolerance }) => {
  const decode = createDecoder(fixtureProfile(name));

  test('gives back every channel that went in, and no other', () => {
    fc.assert(
      fc.property(anySample, (sample) => {
        const decoded = decode(encode(sample));
        if (!decoded.ok) throw new Error(`${decoded.code} ${decoded.channel}`);
        expect(decoded.faults).toEqual([]);
        const [back] = decoded.samples;
        expect(Object.keys(back ?? {}).sort()).toEqual(Object.keys(sample).sort());
        for (const [channel, value] of Object.entries(sample) as [keyof Sample, number | boolean][]) {
          if (typeof value === 'boolean') expect(back?.[channel]).toBe(value);
          else expect(Math.abs(Number(back?.[channel]) - value)).toBeLessThanOrEqual(tolerance(channel) * 1.001);
        }
      }),
    );
  });

  test('fits a datagram of an ordinary network', () => {
    fc.assert(fc.property(anySample, (sample) => encode(sample).length <= 1400));
  });
});

test('the text format reads as it is documented', () => {
  const text = new TextDecoder().decode(
    standInText({
      timeS: 12.05,
      latitudeDeg: 52.1,
      longitudeDeg: -1.8,
      altitudeFt: 1212,
      heightFt: 900,
      indicatedAirspeedKt: 92,
      headingDeg: 238,
      bankDeg: -1.5,
      pitchDeg: 8,
      verticalSpeedFpm: 1300,
      powerFraction: 1,
      onGround: false,
    }),
  );
  expect(text).toBe(
    'SP1,12.050,52.10000000,-1.80000000,1212.00,900.00,92.00,,,,238.000,-1.500,8.000,1300.0,,,100.00,,,0,\n',
  );
});
