// One moment of a flight as the simulator told it. Missing stays missing: nothing is invented.
import { z } from 'zod';
import { headingDeg, latitudeDeg, longitudeDeg, quantity } from './quantities.js';

export const Sample = z.strictObject({
  /** The simulator's own seconds; they stand still in a pause and run fast when the simulator does. */
  timeS: quantity(0, 1e9, 's'),
  latitudeDeg,
  longitudeDeg,
  /** Above mean sea level. */
  altitudeFt: quantity(-2000, 60_000, 'ft'),
  /** Above the runway, if the simulator tells it. Not above the ground beneath: that is `heightAboveGroundFt`. */
  heightFt: quantity(-1000, 60_000, 'ft').optional(),
  /** Above the ground beneath the aeroplane, which may lie higher or lower than the runway. */
  heightAboveGroundFt: quantity(-1000, 60_000, 'ft').optional(),
  indicatedAirspeedKt: quantity(-20, 400, 'kt'),
  trueAirspeedKt: quantity(-20, 500, 'kt').optional(),
  groundspeedKt: quantity(-20, 500, 'kt').optional(),
  trackDeg: headingDeg.optional(),
  headingDeg,
  /** Right wing down positive. */
  bankDeg: quantity(-180, 180, 'degrees'),
  /** Nose up positive. */
  pitchDeg: quantity(-90, 90, 'degrees'),
  /** Climb positive. */
  verticalSpeedFpm: quantity(-30_000, 30_000, 'ft/min'),
  loadFactor: quantity(-20, 20, 'g').optional(),
  engineRpm: quantity(-100, 20_000, 'rpm').optional(),
  /** 0: none, 1: take-off power. */
  powerFraction: quantity(-0.05, 1.5, '').optional(),
  /** 0: up, 1: down. */
  gearFraction: quantity(0, 1, '').optional(),
  flapFraction: quantity(0, 1, '').optional(),
  onGround: z.boolean('must be true or false').optional(),
  stallWarning: z.boolean('must be true or false').optional(),
});
export type Sample = z.infer<typeof Sample>;

/** Every channel a link profile may fill. */
export const SAMPLE_CHANNELS = Object.keys(Sample.shape) as (keyof Sample)[];
/** Channels without which no sample is made. */
export const REQUIRED_CHANNELS: readonly (keyof Sample)[] = [
  'timeS',
  'latitudeDeg',
  'longitudeDeg',
  'altitudeFt',
  'indicatedAirspeedKt',
  'headingDeg',
  'bankDeg',
  'pitchDeg',
  'verticalSpeedFpm',
];

/** Lowest and highest value of each channel, read off the schema; what is true or false may be told as any finite number. */
export const CHANNEL_BOUNDS = Object.fromEntries(
  SAMPLE_CHANNELS.map((channel) => [channel, boundsOf(Sample.shape[channel])]),
) as Readonly<Record<keyof Sample, readonly [lowest: number, highest: number]>>;

function boundsOf(schema: z.ZodType): readonly [number, number] {
  const inner = schema instanceof z.ZodOptional ? schema.unwrap() : schema;
  if (!(inner instanceof z.ZodNumber)) return [-Number.MAX_VALUE, Number.MAX_VALUE];
  return [inner.minValue ?? -Number.MAX_VALUE, inner.maxValue ?? Number.MAX_VALUE];
}
