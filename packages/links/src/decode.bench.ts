// Decoding a datagram through a link profile against splitting it by hand.
import { readFileSync } from 'node:fs';
import { LinkProfile, type Sample } from '@stillprop/contracts';
import { type Ratio, timeRatio } from '../../../.tools/sideBySide.js';
import { createDecoder, standInJson, standInText } from './index.js';

const SAMPLE: Sample = {
  timeS: 61.25,
  latitudeDeg: 52.1,
  longitudeDeg: -1.8,
  altitudeFt: 1212.5,
  heightFt: 900.5,
  indicatedAirspeedKt: 92.1,
  trueAirspeedKt: 93.4,
  groundspeedKt: 81.2,
  trackDeg: 238.1,
  headingDeg: 239.4,
  bankDeg: -0.8,
  pitchDeg: 9.4,
  verticalSpeedFpm: 1310,
  loadFactor: 1.01,
  engineRpm: 2450,
  powerFraction: 1,
  gearFraction: 0,
  flapFraction: 0,
  onGround: false,
  stallWarning: false,
};

const profile = (format: string) =>
  LinkProfile.parse(
    JSON.parse(readFileSync(new URL(`../../../fixtures/links/stand-in-${format}.json`, import.meta.url), 'utf8')),
  );

export default function decoding(): Ratio[] {
  const text = standInText(SAMPLE);
  const json = standInJson(SAMPLE);
  const decodeText = createDecoder(profile('text'));
  const decodeJson = createDecoder(profile('json'));
  const utf8 = new TextDecoder();
  const timeOf = (decoded: ReturnType<typeof decodeText>) =>
    decoded.ok ? (decoded.samples[0]?.timeS ?? Number.NaN) : Number.NaN;
  const byHand = () => {
    let sum = 0;
    for (const field of utf8.decode(text).split(',')) sum += Number(field) || 0;
    return sum;
  };
  const parseOnly = () => (JSON.parse(utf8.decode(json)) as { clock: { seconds: number } }).clock.seconds;
  return [
    {
      name: 'decoding a text datagram by profile / splitting it into numbers by hand',
      ratio: timeRatio(() => timeOf(decodeText(text)), byHand),
      goal: 3,
      better: 'lower',
    },
    {
      name: 'decoding a JSON datagram by profile / parsing its JSON',
      ratio: timeRatio(() => timeOf(decodeJson(json)), parseOnly),
      goal: 3,
      better: 'lower',
    },
  ];
}
