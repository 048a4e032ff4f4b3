// How the wind changes between the lowest and the highest height of a glide, and how sure of that one can be.
import { M_PER_FT, windShare } from '@stillprop/physics';
import type { GlideColumns } from './glideColumns.js';
import type { Segment } from './glideSegments.js';

/**
 * Winds at two heights are told apart where the higher is this much higher. With less between them the log law changes
 * the wind by ln 1.5/ln(1000 ft/0.15 ft) = 5 to 6 % only, and is taken as it stands: a change of that size is less
 * than what a glide tells of it.
 */
const TWO_LEVELS = 1.5;
/** The log law is stated for 3 ft to 1000 ft (MIL-F-8785C, 3.7.3.2); above, `windProfile` holds the wind. */
const GROWS_FROM_M = 3 * M_PER_FT;
const GROWS_TO_M = 1000 * M_PER_FT;

export interface WindLevels {
  readonly lowM: number;
  readonly highM: number;
  /** Whether the track tells the winds at both heights. */
  readonly twoLevels: boolean;
  /** Change between the two heights by the log law, as a share of the wind at the higher. */
  readonly logLawShare: number;
  /** How much of the change between the two heights has been made at a height (m): 0 to 1. */
  readonly shareAt: (heightM: number) => number;
}

export interface WindChange extends WindLevels {
  /** Of the change's components to the north and the east ((m/s)²). */
  readonly covariance: readonly [readonly [number, number], readonly [number, number]];
}

/** Levels at the very ends of the glide: a profile is held beyond its levels, and a gradient would be lost there. */
export function heightsOf({ heightM }: GlideColumns, segments: readonly Segment[]): WindLevels {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (const { first, last } of segments)
    for (const height of heightM.subarray(first, last + 1)) {
      lowest = Math.min(lowest, height);
      highest = Math.max(highest, height);
    }
  const lowM = Math.max(lowest, GROWS_FROM_M);
  const highM = Math.max(Math.min(highest, GROWS_TO_M), GROWS_FROM_M);
  const grows = highM > lowM;
  return {
    lowM,
    highM,
    twoLevels: highM > TWO_LEVELS * lowM,
    logLawShare: grows ? 1 - windShare(lowM / M_PER_FT, highM / M_PER_FT) : 0,
    shareAt: (height) =>
      grows ? Math.log(Math.max(lowM, Math.min(height, highM)) / lowM) / Math.log(highM / lowM) : 1,
  };
}
