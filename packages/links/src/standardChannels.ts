// Values of a standard's message as channels of a sample: unit, bounds; what cannot be right is left out and named.
import { SAMPLE_CHANNELS, Sample, type SlotUnit } from '@stillprop/contracts';
import { slotFactor } from './slotUnits.js';
import type { Refusal, StandardChannels } from './standards.js';

type NumberChannel = {
  [Name in keyof StandardChannels]-?: NonNullable<StandardChannels[Name]> extends number ? Name : never;
}[keyof StandardChannels];
export type ChannelValue = readonly [channel: NumberChannel, value: number | undefined, unit: SlotUnit];

/**
 * Direction of the velocity is noise below this ground speed, m/s: an aeroplane at rest has no track.
 * Common practice, no source.
 */
const TRACK_FROM_MPS = 0.5;

/** Bounds of each channel as the schema has them: asking the schema itself for every value would cost more than reading it. */
const BOUNDS = new Map(
  SAMPLE_CHANNELS.map((channel) => {
    const field = Sample.shape[channel];
    const { minValue = Number.NaN, maxValue = Number.NaN } = ('unwrap' in field ? field.unwrap() : field) as Bounded;
    return [channel, { lowest: minValue ?? Number.NaN, highest: maxValue ?? Number.NaN }] as const;
  }),
);
interface Bounded {
  readonly minValue?: number | null;
  readonly maxValue?: number | null;
}

const factors = new Map<SlotUnit, Map<NumberChannel, number>>();

/** `slotFactor`, looked up once. */
function factorOf(unit: SlotUnit, channel: NumberChannel): number {
  const ofUnit = factors.get(unit) ?? new Map<NumberChannel, number>();
  factors.set(unit, ofUnit);
  const known = ofUnit.get(channel) ?? slotFactor(unit, channel) ?? Number.NaN;
  ofUnit.set(channel, known);
  return known;
}

/** Channels from values in their units; undefined stays missing, what is out of bounds is appended to `refused`. */
export function channelsFrom(kind: string, values: readonly ChannelValue[], refused: Refusal[]): StandardChannels {
  const channels: { -readonly [Name in NumberChannel]?: number } = {};
  for (const [channel, value, unit] of values) {
    if (value === undefined) continue;
    const converted = value * factorOf(unit, channel);
    const bounds = BOUNDS.get(channel);
    if (bounds !== undefined && converted >= bounds.lowest && converted <= bounds.highest)
      channels[channel] = converted;
    else refused.push({ reason: 'out-of-range', kind, field: channel });
  }
  return channels;
}

/** Direction from 0 to below 360 degrees, of any angle in degrees. */
export function compassDeg(angleDeg: number): number {
  return ((angleDeg % 360) + 360) % 360;
}

export interface GroundVelocity {
  readonly groundspeedMps: number;
  readonly trackDeg: number | undefined;
}

/** Speed and direction over the ground; at rest the direction is missing. */
export function groundVelocity(northMps: number, eastMps: number): GroundVelocity {
  const groundspeedMps = Math.hypot(northMps, eastMps);
  const trackDeg = (Math.atan2(eastMps, northMps) * 180) / Math.PI;
  return { groundspeedMps, trackDeg: groundspeedMps >= TRACK_FROM_MPS ? compassDeg(trackDeg) : undefined };
}

/** The object without what is undefined: missing stays missing. */
export function present<Fields extends object>(
  fields: {
    [Name in keyof Fields]: Fields[Name] | (undefined extends Fields[Name] ? undefined : never);
  },
): Fields {
  const kept: Record<string, unknown> = {};
  for (const name in fields) if (fields[name] !== undefined) kept[name] = fields[name];
  return kept as Fields;
}
