// What the stand-in simulator sends, in its two formats; fixtures/links/stand-in-*.json describe them to a decoder.
import type { Sample } from '@stillprop/contracts';
import { type ChannelName, slotFactor } from './slotUnits.js';

const RAD_PER_DEG = 1 / (slotFactor('rad', 'bankDeg') ?? Number.NaN);
const M_PER_FT = 1 / (slotFactor('m', 'altitudeFt') ?? Number.NaN);
const MPS_PER_KT = 1 / (slotFactor('m/s', 'indicatedAirspeedKt') ?? Number.NaN);
const MPS_PER_FPM = 1 / (slotFactor('m/s', 'verticalSpeedFpm') ?? Number.NaN);

const TAG = 'SP1';
/** Columns after the tag, in order, with the decimals they are written with. */
const TEXT_COLUMNS: readonly (readonly [channel: ChannelName, decimals: number])[] = [
  ['timeS', 3],
  ['latitudeDeg', 8],
  ['longitudeDeg', 8],
  ['altitudeFt', 2],
  ['heightFt', 2],
  ['indicatedAirspeedKt', 2],
  ['trueAirspeedKt', 2],
  ['groundspeedKt', 2],
  ['trackDeg', 3],
  ['headingDeg', 3],
  ['bankDeg', 3],
  ['pitchDeg', 3],
  ['verticalSpeedFpm', 1],
  ['loadFactor', 4],
  ['engineRpm', 1],
  ['powerFraction', 2], // in percent
  ['gearFraction', 4],
  ['flapFraction', 4],
  ['onGround', 0],
  ['stallWarning', 0],
];

/** One line of comma-separated text; an absent channel is an empty field. */
export function standInText(sample: Sample): Uint8Array {
  const fields = TEXT_COLUMNS.map(([channel, decimals]) => {
    const value = sample[channel];
    if (value === undefined) return '';
    if (typeof value === 'boolean') return value ? '1' : '0';
    return (channel === 'powerFraction' ? value * 100 : value).toFixed(decimals);
  });
  return new TextEncoder().encode(`${TAG},${fields.join(',')}\n`);
}

/** One JSON object in SI units; an absent channel has no key. */
export function standInJson(sample: Sample): Uint8Array {
  const object = {
    clock: { seconds: sample.timeS },
    place: {
      latitude: sample.latitudeDeg * RAD_PER_DEG,
      longitude: sample.longitudeDeg * RAD_PER_DEG,
      altitude: sample.altitudeFt * M_PER_FT,
      height: times(sample.heightFt, M_PER_FT),
    },
    speed: {
      indicated: sample.indicatedAirspeedKt * MPS_PER_KT,
      true: times(sample.trueAirspeedKt, MPS_PER_KT),
      ground: times(sample.groundspeedKt, MPS_PER_KT),
      vertical: sample.verticalSpeedFpm * MPS_PER_FPM,
    },
    attitude: {
      track: times(sample.trackDeg, RAD_PER_DEG),
      heading: sample.headingDeg * RAD_PER_DEG,
      bank: sample.bankDeg * RAD_PER_DEG,
      pitch: sample.pitchDeg * RAD_PER_DEG,
      loadFactor: sample.loadFactor,
    },
    engine: { rpm: sample.engineRpm, power: sample.powerFraction },
    surfaces: { gear: sample.gearFraction, flap: sample.flapFraction },
    onGround: sample.onGround,
    stallWarning: sample.stallWarning,
  };
  return new TextEncoder().encode(JSON.stringify(object)); // leaves keys out whose value is undefined
}

function times(value: number | undefined, factor: number): number | undefined {
  return value === undefined ? undefined : value * factor;
}
