// One row to the channels it gives: scale, offset, clamp, unit, bounds.
import { CHANNEL_BOUNDS, type LinkProfile, SAMPLE_CHANNELS, type Sample } from '@stillprop/contracts';
import type { DecodeFault } from './decode.js';
import { PART_WRITERS } from './partWriters.js';
import type { Row, Slot } from './readers.js';
import { type ChannelName, slotFactor } from './slotUnits.js';

/** Some channels of a sample: what one row of one link tells. */
export type SamplePart = { -readonly [Channel in ChannelName]?: Sample[Channel] };

/** Rounding in a simulator lets a lever stand this far beyond its stops; further out the value is wrong. */
const LEVER_SLACK = 0.001;
const LEVERS: ReadonlySet<string> = new Set<ChannelName>(['gearFraction', 'flapFraction']);

interface Converter {
  readonly channel: ChannelName;
  readonly scale: number;
  readonly offset: number;
  readonly factor: number;
  readonly clamp: readonly [number, number] | null;
  readonly write: (part: SamplePart, value: number) => void;
  readonly lever: boolean;
  readonly low: number;
  readonly high: number;
}

export interface RowConverter {
  /** In the order in which rows hold their values. */
  readonly slots: readonly Slot[];
  /** The channels that a row gives; what was wrong is appended to `faults` and left out. */
  toPart(row: Row, arrivalTimeS: number, faults: DecodeFault[]): SamplePart;
}

/** The channel map of a profile, made ready once. */
export function partFromRow(profile: LinkProfile): RowConverter {
  const slots: Slot[] = [];
  const converters: Converter[] = [];
  for (const channel of SAMPLE_CHANNELS) {
    const source = profile.channels[channel];
    if (source === undefined) continue;
    const { slot, unit, scale, offset, clamp } = source;
    const [low, high] = CHANNEL_BOUNDS[channel];
    slots.push(slot);
    converters.push({
      channel,
      scale,
      offset,
      factor: slotFactor(unit, channel) ?? Number.NaN,
      clamp: clamp ?? null,
      write: PART_WRITERS[channel],
      lever: LEVERS.has(channel),
      low,
      high,
    });
  }
  const byArrival = profile.timeSource === 'arrival';
  const [, latestS] = CHANNEL_BOUNDS.timeS;

  return {
    slots,
    toPart: (row, arrivalTimeS, faults) => {
      const part: SamplePart = {};
      if (byArrival) {
        if (arrivalTimeS >= 0 && arrivalTimeS <= latestS) part.timeS = arrivalTimeS;
        else faults.push({ code: 'out-of-range', channel: 'timeS' });
      }
      for (let index = 0; index < converters.length; index += 1) {
        const raw = row[index];
        if (raw === undefined) continue;
        const to = converters[index] as Converter;
        if (typeof raw !== 'number' && typeof raw !== 'boolean') {
          faults.push({ code: 'not-a-number', channel: to.channel });
          continue;
        }
        const value = converted(Number(raw), to);
        if (!(value >= to.low && value <= to.high)) {
          faults.push({ code: 'out-of-range', channel: to.channel });
          continue;
        }
        to.write(part, value);
      }
      return part;
    },
  };
}

function converted(raw: number, { scale, offset, clamp, factor, lever }: Converter): number {
  let value = raw * scale + offset;
  if (clamp !== null) value = Math.min(Math.max(value, clamp[0]), clamp[1]);
  value *= factor;
  return lever ? withinStops(value) : value;
}

function withinStops(fraction: number): number {
  if (fraction > 1 && fraction <= 1 + LEVER_SLACK) return 1;
  return fraction < 0 && fraction >= -LEVER_SLACK ? 0 : fraction;
}
