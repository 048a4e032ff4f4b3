// One row to one sample: scale, offset, unit, bounds.
import { type LinkProfile, REQUIRED_CHANNELS, Sample } from '@stillprop/contracts';
import type { DecodeFault, Row } from './decode.js';
import { type ChannelName, slotFactor } from './slotUnits.js';

/** Rounding in a simulator lets a lever stand this far beyond its stops; further out the value is wrong. */
const LEVER_SLACK = 0.001;
const LEVERS: ReadonlySet<string> = new Set<ChannelName>(['gearFraction', 'flapFraction']);
const REQUIRED: ReadonlySet<string> = new Set(REQUIRED_CHANNELS);
const TRUE_FROM = 0.5;

/** Returns a function that makes a sample of a row, or null; what was wrong is appended to `faults`. */
export function sampleFromRow(profile: LinkProfile): (row: Row, faults: DecodeFault[]) => Sample | null {
  const slots = (Object.keys(profile.channels) as ChannelName[]).flatMap((channel) => {
    const source = profile.channels[channel];
    return source === undefined ? [] : [{ channel, ...source, factor: slotFactor(source.unit, channel) ?? Number.NaN }];
  });

  return (row, faults) => {
    const values: Partial<Record<ChannelName, number | boolean>> = {};
    for (const { channel, slot, unit, scale, offset, factor } of slots) {
      const raw = row(slot);
      if (raw === undefined) continue;
      if (typeof raw !== 'number' && typeof raw !== 'boolean') {
        faults.push({ code: 'not-a-number', channel });
        if (REQUIRED.has(channel)) return null;
        continue;
      }
      const value = (Number(raw) * scale + offset) * factor;
      if (unit === 'bool') values[channel] = value >= TRUE_FROM;
      else values[channel] = LEVERS.has(channel) ? withinStops(value) : value;
    }
    const missing = REQUIRED_CHANNELS.find((channel) => values[channel] === undefined);
    if (missing !== undefined) {
      if (!faults.some((fault) => fault.channel === missing))
        faults.push({ code: 'missing-channel', channel: missing });
      return null;
    }
    return plausible(values, faults);
  };
}

function plausible(values: Partial<Record<ChannelName, number | boolean>>, faults: DecodeFault[]): Sample | null {
  const first = Sample.safeParse(values);
  if (first.success) return first.data;
  const wrong = new Set(first.error.issues.map((issue) => String(issue.path[0])));
  for (const channel of wrong) faults.push({ code: 'out-of-range', channel: channel as ChannelName });
  if ([...wrong].some((channel) => REQUIRED.has(channel))) return null;
  const kept = Object.fromEntries(Object.entries(values).filter(([channel]) => !wrong.has(channel)));
  const second = Sample.safeParse(kept);
  return second.success ? second.data : null;
}

function withinStops(fraction: number): number {
  if (fraction > 1 && fraction <= 1 + LEVER_SLACK) return 1;
  return fraction < 0 && fraction >= -LEVER_SLACK ? 0 : fraction;
}
