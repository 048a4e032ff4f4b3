// Seconds that only go on, from a clock that starts again every hour, every day or every 2³² milliseconds.
import type { StandardTime } from './standards.js';

/**
 * Returns a function that turns the times of one sender, in the order of arrival, into continuous seconds.
 *
 * The first time counts from the start of its own period. A later one is taken to lie less than half a period from the
 * one before, either way, so that a clock set back goes back; between two times with a date the days count as they are.
 *
 * @returns Seconds; they fall below 0 only where a sender steps back over the start of its first period.
 */
export function continuousTime(): (time: StandardTime) => number {
  let last: { readonly seconds: number; readonly total: number } | undefined;
  let dated: { readonly period: number; readonly start: number } | undefined;

  return ({ seconds, periodS, period }) => {
    let total = seconds;
    if (dated !== undefined && period !== undefined) total = dated.start + (period - dated.period) * periodS + seconds;
    else if (last !== undefined) {
      const ahead = (seconds - last.seconds) / periodS;
      total = last.total + (ahead - Math.round(ahead)) * periodS;
    }
    last = { seconds, total };
    if (period !== undefined) dated = { period, start: total - seconds };
    return total;
  };
}
