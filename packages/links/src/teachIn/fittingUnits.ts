// Which unit and sign make the number that a simulator sends the number that its cockpit shows.
import { CHANNEL_BOUNDS, type SlotUnit } from '@stillprop/contracts';
import { type ChannelName, slotFactor, unitsFor } from '../slotUnits.js';

export interface FittingUnit {
  readonly unit: SlotUnit;
  /** 1, or −1 where the sign is the other way round. */
  readonly scale: 1 | -1;
  /** What the channel would be, in its own unit. */
  readonly value: number;
  /** How far that is from the cockpit, as a share of the cockpit's number. */
  readonly off: number;
}

/** A person reads a needle that moves while they type. */
const FITS_WITHIN = 0.08;
const FULL_TURN_DEG = 360;

/**
 * Units that fit, those with our sign before the others, the nearest first; none: no unit makes one of the other.
 *
 * @param raw The number sent. @param shown What the cockpit shows, in the channel's own unit.
 */
export function fittingUnits(channel: ChannelName, raw: number, shown: number): FittingUnit[] {
  if (!Number.isFinite(raw) || !Number.isFinite(shown) || raw === 0 || shown === 0) return [];
  const [lowest, highest] = CHANNEL_BOUNDS[channel];
  const isBearing = channel === 'headingDeg' || channel === 'trackDeg';
  return unitsFor(channel)
    .flatMap((unit) =>
      ([1, -1] as const).map((scale): FittingUnit => {
        const value = raw * scale * (slotFactor(unit, channel) ?? Number.NaN);
        const difference = isBearing ? bearingDifference(value, shown) : Math.abs(value - shown);
        return { unit, scale, value, off: difference / (isBearing ? FULL_TURN_DEG : Math.abs(shown)) };
      }),
    )
    .filter(({ off, value }) => off <= FITS_WITHIN && value >= lowest && value <= highest)
    .sort((a, b) => b.scale - a.scale || a.off - b.off);
}

function bearingDifference(a: number, b: number): number {
  const turn = Math.abs(a - b) % FULL_TURN_DEG;
  return Math.min(turn, FULL_TURN_DEG - turn);
}
