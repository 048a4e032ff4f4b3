// Where each channel comes from: a slot of the message with its unit, or a calculation from other channels.
import { z } from 'zod';
import { compassDeg, quantity } from './quantities.js';
import { SAMPLE_CHANNELS } from './sample.js';

/** Units a slot may arrive in. The channel's own unit is in its name. */
export const SlotUnit = z.enum(
  [
    's',
    'ms',
    'ft',
    'm',
    'kt',
    'm/s',
    'km/h',
    'mph',
    'deg',
    'rad',
    'turns',
    'ft/min',
    'ft/s',
    'm/min',
    'g',
    'm/s2',
    'rpm',
    'fraction',
    'percent',
    'bool',
  ],
  'must be a unit name such as ft, m, kt, m/s, km/h, deg, rad, ft/min, s, ms, g, rpm, fraction, percent or bool',
);
export type SlotUnit = z.infer<typeof SlotUnit>;

/** Where one channel comes from: a column number or name (delimited), a path of keys (JSON), or the name of a field. */
export const ChannelSource = z.strictObject({
  slot: z
    .union([z.int().min(0), z.string().min(1)], 'must be a column number from 0, or a name')
    .describe(
      'Delimited: number of the column, from 0, or its name. Key and value: the name. JSON: path of keys and list numbers, with dots. ' +
        'Binary: name of the field, or <index>/<name> in a record. Open standards: name of the field',
    ),
  unit: SlotUnit.describe(
    'Unit in which the simulator sends it; it is converted to the one in the name of the channel',
  ),
  scale: z.number().default(1).describe('value × scale + offset, in unit, before conversion; −1 turns the sign round'),
  offset: z.number().default(0).describe('Added after scale, in unit'),
  clamp: z
    .tuple([z.number('must be a number'), z.number('must be a number')])
    .optional()
    .describe('Lowest and highest value, in unit, after scale and offset: what lies beyond becomes the bound'),
});
export type ChannelSource = z.infer<typeof ChannelSource>;

export const Channel = z.enum(SAMPLE_CHANNELS as [string, ...string[]]);
export const channels = z
  .partialRecord(Channel, ChannelSource)
  .describe(
    'Where each channel comes from. Needed, here, in derived, or from a second link: timeS (unless timeSource is arrival), latitudeDeg, longitudeDeg, altitudeFt, indicatedAirspeedKt, headingDeg (true), ' +
      'bankDeg (right wing down +), pitchDeg (nose up +), verticalSpeedFpm (climb +). heightFt is above the runway, ' +
      'heightAboveGroundFt above the ground beneath, trackDeg true. Whether the power fell is checked by engineRpm or powerFraction',
  );

const wind = z
  .strictObject({
    fromTrueDeg: compassDeg.describe('Direction from which the wind blows, true'),
    speedKt: quantity(0, 100, 'kt').describe('Speed of the wind'),
  })
  .optional()
  .describe('The wind that the simulator has; absent: that of the scenario at the height of its runway');
const windowS = (usualS: number) =>
  quantity(0.2, 10, 's')
    .default(usualS)
    .describe('The slope is that of the last so many seconds: longer is smoother, and lags by half of it');

/** A channel calculated from others of the same link, for simulators that do not send it. */
export const Derivation = z.discriminatedUnion('channel', [
  z.strictObject({
    channel: z.literal('verticalSpeedFpm').describe('Vertical speed from altitude'),
    windowS: windowS(1),
  }),
  z.strictObject({ channel: z.literal('trackDeg').describe('Track from position'), windowS: windowS(1) }),
  z.strictObject({ channel: z.literal('groundspeedKt').describe('Groundspeed from position'), windowS: windowS(1) }),
  z.strictObject({
    channel: z
      .literal('headingDeg')
      .describe('Heading from groundspeed, track and a known wind, in coordinated flight'),
    wind,
  }),
  z.strictObject({
    channel: z.literal('trueAirspeedKt').describe('True airspeed from groundspeed, track and a known wind'),
    wind,
  }),
  z.strictObject({
    channel: z
      .literal('indicatedAirspeedKt')
      .describe(
        'Airspeed from groundspeed, track, altitude and a known wind, in standard air, without instrument error',
      ),
    wind,
  }),
  z.strictObject({
    channel: z.literal('heightFt').describe('Height above the runway from altitude'),
    elevationFt: quantity(-2000, 20_000, 'ft').describe('Elevation of the runway above mean sea level'),
  }),
]);
export type Derivation = z.infer<typeof Derivation>;
export type LinkWind = NonNullable<z.infer<typeof wind>>;
