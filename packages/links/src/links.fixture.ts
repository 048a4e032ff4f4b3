// Link profiles from the fixtures folder and arbitrary samples, for the tests of this package.
import { readFileSync } from 'node:fs';
import { LinkProfile, type Sample } from '@stillprop/contracts';
import fc from 'fast-check';

export function fixtureProfile(name: string): LinkProfile {
  const url = new URL(`../../../fixtures/links/${name}.json`, import.meta.url);
  return LinkProfile.parse(JSON.parse(readFileSync(url, 'utf8')));
}

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Any sample inside the schema's bounds, with any of the optional channels absent. */
export const anySample: fc.Arbitrary<Sample> = fc.record(
  {
    timeS: within(0, 1e7),
    latitudeDeg: within(-90, 90),
    longitudeDeg: within(-180, 180),
    altitudeFt: within(-2000, 60_000),
    heightFt: within(-1000, 60_000),
    indicatedAirspeedKt: within(-20, 400),
    trueAirspeedKt: within(-20, 500),
    groundspeedKt: within(-20, 500),
    trackDeg: within(-360, 720),
    headingDeg: within(-360, 720),
    bankDeg: within(-180, 180),
    pitchDeg: within(-90, 90),
    verticalSpeedFpm: within(-30_000, 30_000),
    loadFactor: within(-20, 20),
    engineRpm: within(-100, 20_000),
    powerFraction: within(-0.05, 1.5),
    gearFraction: within(0, 1),
    flapFraction: within(0, 1),
    onGround: fc.boolean(),
    stallWarning: fc.boolean(),
  },
  {
    requiredKeys: [
      'timeS',
      'latitudeDeg',
      'longitudeDeg',
      'altitudeFt',
      'indicatedAirspeedKt',
      'headingDeg',
      'bankDeg',
      'pitchDeg',
      'verticalSpeedFpm',
    ],
  },
);
