// What a trace says at one moment, and the part of a flight that the charts show.
import type { Phase, PhaseName, Score, Trace } from '@stillprop/contracts';

/** A sample further away than this does not speak for a moment (s). */
const FARTHEST_SAMPLE_S = 1.5;
/** Moments closer than this are one: between two samples at 100 Hz lie 10 of it (s). */
const SAME_MOMENT_S = 0.001;
const LEAD_IN_S = 5;
const AFTER_CONTACT_S = 4;

/** Index of the sample nearest to a moment; -1 for an empty trace. Times ascend. */
export function nearestIndex(timeS: readonly number[], atS: number): number {
  let low = 0;
  let high = timeS.length - 1;
  if (high < 0) return -1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((timeS[middle] as number) < atS) low = middle + 1;
    else high = middle;
  }
  const before = timeS[low - 1];
  return before !== undefined && atS - before <= (timeS[low] as number) - atS ? low - 1 : low;
}

/** The moment of the sample next to a moment, forward or back; at either end the moment itself. */
export function nextSampleS(timeS: readonly number[], atS: number, direction: 1 | -1): number {
  const near = nearestIndex(timeS, atS);
  const nearS = timeS[near];
  if (nearS === undefined) return atS;
  if (direction === 1 ? nearS > atS + SAME_MOMENT_S : nearS < atS - SAME_MOMENT_S) return nearS;
  return timeS[near + direction] ?? atS;
}

export type TraceColumn = Exclude<keyof Trace, 'timeS'>;

/** A column's value at the sample nearest to a moment; null: not measured then. */
export function valueAt(trace: Trace, column: TraceColumn, atS: number): number | null {
  const index = nearestIndex(trace.timeS, atS);
  const sampleS = trace.timeS[index];
  if (sampleS === undefined || Math.abs(sampleS - atS) > FARTHEST_SAMPLE_S) return null;
  return trace[column][index] ?? null;
}

/** The phase a moment belongs to. */
export function phaseAt(phases: readonly Phase[], atS: number): PhaseName | null {
  return phases.find(({ fromS, toS }) => atS >= fromS && atS < toS)?.name ?? null;
}

/** The stretch of time on show, in the recording's seconds, and the moment its axis counts from. */
export interface TimeWindow {
  readonly originS: number;
  /** What happened at the origin, in words: "power was lost". */
  readonly originText: string;
  readonly fromS: number;
  readonly toS: number;
}

/**
 * From just before power was lost to just after contact; the whole recording when asked for, or when no power was lost.
 * Counts from the loss of power, else from lift-off, else from the first sample.
 */
export function timeWindow(
  score: Pick<Score, 'failure' | 'events'>,
  timeS: readonly number[],
  whole = false,
): TimeWindow {
  const firstS = timeS[0] ?? 0;
  const lastS = Math.max(timeS.at(-1) ?? 0, firstS + 1);
  const eventS = (code: string) => score.events.findLast((event) => event.code === code)?.atS;
  const lostS = score.failure?.atS;
  const liftOffS = score.events.find(({ code }) => code === 'lift-off')?.atS;
  const originS = lostS ?? liftOffS ?? firstS;
  const originText =
    lostS !== undefined ? 'power was lost' : liftOffS !== undefined ? 'lift-off' : 'the recording began';
  if (whole || lostS === undefined) return { originS, originText, fromS: firstS, toS: lastS };
  const contactS = eventS('last-contact') ?? eventS('contact');
  return {
    originS,
    originText,
    fromS: Math.max(firstS, lostS - LEAD_IN_S),
    toS: Math.max(Math.min(lastS, (contactS ?? lastS) + AFTER_CONTACT_S), lostS + 1),
  };
}
