// The bounds read off the schema agree with the schema itself.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CHANNEL_BOUNDS, SAMPLE_CHANNELS, Sample } from './index.js';

const whole = {
  timeS: 1,
  latitudeDeg: 52,
  longitudeDeg: -1,
  altitudeFt: 900,
  indicatedAirspeedKt: 80,
  headingDeg: 240,
  bankDeg: 0,
  pitchDeg: 5,
  verticalSpeedFpm: 0,
};
const numeric = SAMPLE_CHANNELS.filter((channel) => channel !== 'onGround' && channel !== 'stallWarning');

test('a value is within the bounds of its channel exactly where the schema takes it', () => {
  expect(numeric).toHaveLength(SAMPLE_CHANNELS.length - 2);
  const near = fc
    .tuple(fc.constantFrom(...numeric), fc.boolean(), fc.double({ min: -1, max: 1 }))
    .map(([channel, high, by]) => [channel, CHANNEL_BOUNDS[channel][high ? 1 : 0] + by] as const);
  const any = fc.tuple(fc.constantFrom(...numeric), fc.double());
  fc.assert(
    fc.property(fc.oneof(near, any), ([channel, value]) => {
      const [low, high] = CHANNEL_BOUNDS[channel];
      expect(value >= low && value <= high).toBe(Sample.safeParse({ ...whole, [channel]: value }).success);
    }),
    { numRuns: 2000 },
  );
});

test('the bounds themselves are taken', () => {
  for (const channel of numeric) {
    for (const value of CHANNEL_BOUNDS[channel]) {
      expect(Sample.safeParse({ ...whole, [channel]: value }).success, `${channel} ${value}`).toBe(true);
    }
  }
});
