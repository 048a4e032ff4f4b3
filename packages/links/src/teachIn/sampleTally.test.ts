// What a profile makes of a stream, and the doubts about wrong units and signs, each on a flight whose truth is known.
import type { LinkProfile, Sample } from '@stillprop/contracts';
import { describe, expect, test } from 'vitest';
import { fixtureProfile } from '../links.fixture.js';
import { standInText } from '../standIn.js';
import { createSampleTally } from './sampleTally.js';

const KT_PER_NM_PER_MIN = 60;

/** A climbing right turn at 75 kt without wind, invented; `change` falsifies what is sent. */
function flight(change: (sample: Sample) => Partial<Sample> = () => ({})): Uint8Array[] {
  let latitudeDeg = 52;
  let longitudeDeg = -1.8;
  return Array.from({ length: 400 }, (_, at) => {
    const timeS = at / 20;
    const headingDeg = (300 + timeS * 6) % 360;
    const wayDeg = 75 / 3600 / 20 / KT_PER_NM_PER_MIN;
    latitudeDeg += wayDeg * Math.cos((headingDeg * Math.PI) / 180);
    longitudeDeg += (wayDeg * Math.sin((headingDeg * Math.PI) / 180)) / Math.cos((52 * Math.PI) / 180);
    const sample: Sample = {
      timeS,
      latitudeDeg,
      longitudeDeg,
      altitudeFt: 500 + (timeS * 600) / 60,
      indicatedAirspeedKt: 75,
      headingDeg,
      bankDeg: 22,
      pitchDeg: 5,
      verticalSpeedFpm: 600,
    };
    return standInText({ ...sample, ...change(sample) });
  });
}

function reportOf(messages: readonly Uint8Array[], change: Partial<LinkProfile> = {}) {
  const tally = createSampleTally({ ...fixtureProfile('stand-in-text'), ...change });
  for (const [at, message] of messages.entries()) tally.give(message, at / 20);
  return tally.report();
}

test('samples, rate and ranges of a stream that is right, and no doubt', () => {
  const report = reportOf(flight());
  expect(report).toMatchObject({ messages: 400, good: 400, samples: 400, refused: {}, doubts: [] });
  expect(report.rateHz).toBeCloseTo(20, 6);
  expect(report.ranges).toContainEqual({ channel: 'altitudeFt', lowest: 500, highest: 699.5 });
});

test('what is refused is counted by its reason', () => {
  const bytes = new TextEncoder().encode('SP1,1,2\n');
  const report = reportOf([...flight(), bytes, Uint8Array.of(0xff), new Uint8Array()]);
  expect(report).toMatchObject({ messages: 403, good: 400, refused: { 'not-text': 1, empty: 1 } });
  expect(Object.keys(report.refused)).toContain('missing-channel longitudeDeg');
});

const RAD = Math.PI / 180;
describe('doubts', () => {
  test.each<[string, (sample: Sample) => Partial<Sample>, RegExp]>([
    [
      'bank in radians',
      ({ bankDeg }) => ({ bankDeg: bankDeg * RAD }),
      /^bankDeg never goes beyond 0.38 degrees .* radians\.$/,
    ],
    ['heading in radians', ({ headingDeg }) => ({ headingDeg: headingDeg * RAD }), /^headingDeg .* radians\.$/],
    [
      'position in radians',
      (s) => ({ latitudeDeg: s.latitudeDeg * RAD, longitudeDeg: s.longitudeDeg * RAD }),
      /^latitudeDeg and longitudeDeg .* radians/,
    ],
    ['bank with its sign turned', () => ({ bankDeg: -22 }), /^bankDeg is left where .* scale −1/],
    ['airspeed in m/s', () => ({ indicatedAirspeedKt: 75 * 0.5144 }), /^indicatedAirspeedKt .* m\/s\.$/],
    ['airspeed in km/h', () => ({ indicatedAirspeedKt: 75 * 1.852 }), /^indicatedAirspeedKt .* km\/h\.$/],
    ['altitude in metres', ({ altitudeFt }) => ({ altitudeFt: altitudeFt * 0.3048 }), /^altitudeFt .* m\.$/],
    ['vertical speed in m/s', () => ({ verticalSpeedFpm: 3.048 }), /^verticalSpeedFpm .* m\/s\.$/],
    ['vertical speed with its sign turned', () => ({ verticalSpeedFpm: -600 }), /^verticalSpeedFpm is down/],
    [
      'a height that never moves',
      () => ({ heightFt: 0 }),
      /^heightFt stays near 0 ft while altitudeFt changes by 200 ft/,
    ],
    ['a flag that never falls', () => ({ onGround: true }), /^onGround says that it stands/],
    ['a clock that goes back', ({ timeS }) => ({ timeS: timeS % 10 }), /^timeS goes back 1 time:/],
  ])('%s is doubted, and nothing else', (_, change, doubt) => {
    const { doubts } = reportOf(flight(change));
    expect(doubts).toHaveLength(1);
    expect(doubts[0]).toMatch(doubt);
  });

  test('a rate that is not the one expected', () => {
    expect(reportOf(flight(), { expectedRateHz: 60 }).doubts).toEqual([
      '20.0 samples a second came, and expectedRateHz is 60: set it to what comes.',
    ]);
  });
});
