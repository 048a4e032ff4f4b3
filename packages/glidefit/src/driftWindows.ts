// The way of a glide over the ground and through the air as window means: what tells of the wind.
import { type Runway, toRunwayFrame } from '@stillprop/contracts';
import { levelAirspeedMps, M_PER_FT } from '@stillprop/physics';
import type { GlideColumns } from './glideColumns.js';
import type { Segment } from './glideSegments.js';
import { type Windowed, windowMeans } from './windowing.js';

/** One window; ways and times count from the start of its stretch. */
export interface DriftWindow extends Windowed {
  readonly groundNorthM: number;
  readonly groundEastM: number;
  readonly airNorthM: number;
  readonly airEastM: number;
  readonly timeS: number;
  /** Time, each moment of it weighed with the share that the change of the wind has made there. */
  readonly shareS: number;
}

/**
 * Windows of all stretches: positions, and airspeed along the heading integrated (trapezoids). Positions, not their
 * differences: those would share their noise with their neighbours.
 */
export function driftWindows(
  columns: GlideColumns,
  segments: readonly Segment[],
  runway: Runway,
  shareAt: (heightM: number) => number,
): DriftWindow[] {
  return windowMeans(columns, segments, (segment) => waysOf(columns, segment, runway, shareAt)).map(
    ({ segment, midS, means: [north, east, airNorth, airEast, time, share] }) => ({
      segment,
      midS,
      groundNorthM: north as number,
      groundEastM: east as number,
      airNorthM: airNorth as number,
      airEastM: airEast as number,
      timeS: time as number,
      shareS: share as number,
    }),
  );
}

function waysOf(
  { timeS, heightM, tasMps, climbMps, headingRad, samples }: GlideColumns,
  { first }: Segment,
  runway: Runway,
  shareAt: (heightM: number) => number,
) {
  // North and east of the first sample: the runway frame of a runway that points north from there.
  const frame = { ...runway, headingTrueDeg: 0, start: samples[first] as (typeof samples)[number] };
  const rateOf = (i: number) => {
    const tas = tasMps[i] as number;
    const horizontal = levelAirspeedMps(tas, climbMps[i] as number);
    const heading = headingRad[i] as number;
    return [horizontal * Math.cos(heading), horizontal * Math.sin(heading), 1, shareAt(heightM[i] as number)];
  };
  let before = rateOf(first);
  let sums = before.map(() => 0);
  return (i: number): readonly number[] => {
    const rates = rateOf(i);
    const dtS = i > first ? (timeS[i] as number) - (timeS[i - 1] as number) : 0;
    sums = sums.map((sum, k) => sum + (((rates[k] as number) + (before[k] as number)) / 2) * dtS);
    before = rates;
    const { latitudeDeg, longitudeDeg } = samples[i] as (typeof samples)[number];
    const { alongFt, acrossFt } = toRunwayFrame(frame, latitudeDeg, longitudeDeg);
    return [alongFt * M_PER_FT, acrossFt * M_PER_FT, ...sums];
  };
}
