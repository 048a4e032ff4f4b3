// Contact and stop of a track log, which tells of neither: from heights that drift and places that are good.
import { indexAt } from './columns.js';
import type { Flight } from './flight.js';

const FT_S_PER_KT = 1852 / 3600 / 0.3048;
/** Speed over the ground is taken over this long about a moment: a place is off by far more than its changes are (s). */
const SPEED_OVER_S = 2;
/** Slower than this over the ground it rolls: no aeroplane of ours flies so slowly, but in a gale (kt). */
const ROLLING_KT = 35;
/** The contact is looked for up to so long before that, first in all of it, then in what is near (s). */
const MODEL_FROM_S = 35;
const NEAR_BEFORE_S = 12;
const NEAR_AFTER_S = 14;
/** Of a span, at either end: with less on one side there is no telling (s). */
const KEPT_S = 2;
/** Sink dies away over this long before the contact; common practice, no source (s). */
const FLARE_S = 4;
const STEP_S = 0.1;
const LEAST_SAMPLES = 8;
/** Stopped: moved no farther than this in that time. The wander of a receiver is less. */
const STOPPED_FT = 12;
const STOPPED_OVER_S = 5;

export interface TrackContact {
  readonly contactS: number;
  readonly stoppedS: number | null;
}

/**
 * The moment at which two models together fit best: height falls by a steady sink, less and less in the last 4 s, and
 * stays then as it is; speed over the ground changes evenly, more and more falls away in those 4 s, and falls evenly from
 * the contact on. Both are linear in all but that moment, which is tried in steps of 0.1 s; each misfit counts by its own
 * spread.
 *
 * @returns null when the aeroplane never gets slow after `afterS`, or the log has no places there: then it is not known
 *   from the track when it came down.
 */
export function trackContact(flight: Flight, afterS: number): TrackContact | null {
  const { timeS, heightFt, count } = flight;
  const speeds = speedsKt(flight);
  if (speeds === null) return null;
  let slow = indexAt(timeS, afterS) + 1;
  while (slow < count && (speeds[slow] as number) >= ROLLING_KT) slow++;
  if (slow >= count) return null;
  const slowS = timeS[slow] as number;
  const columns = { timeS, heightFt, speeds };
  const roughS = bestFit(columns, { fromS: Math.max(afterS, slowS - MODEL_FROM_S), toS: slowS });
  if (roughS === null) return null;
  // Once more with what is near it alone: further up it turned, further on the brakes were taken off.
  const near = { fromS: Math.max(afterS, roughS - NEAR_BEFORE_S), toS: Math.min(slowS, roughS + NEAR_AFTER_S) };
  const contactS = bestFit(columns, near) ?? roughS;
  return { contactS, stoppedS: stoppedAfter(flight, slow) };
}

/** The moment within a span that fits its samples best; null: too few. */
function bestFit(
  { timeS, heightFt, speeds }: { timeS: Float64Array; heightFt: Float64Array; speeds: Float64Array },
  { fromS, toS }: { fromS: number; toS: number },
): number | null {
  const first = Math.max(indexAt(timeS, fromS), 0);
  const last = indexAt(timeS, toS);
  if (last - first + 1 < LEAST_SAMPLES) return null;
  let best = Number.POSITIVE_INFINITY;
  let bestS: number | null = null;
  for (let atS = fromS + KEPT_S; atS < toS - KEPT_S; atS += STEP_S) {
    const worth =
      Math.log(misfit(timeS, heightFt, first, last, atS, heightTerms)) +
      Math.log(misfit(timeS, speeds, first, last, atS, speedTerms));
    if (worth < best) [best, bestS] = [worth, atS];
  }
  return bestS;
}

/** Of the height, so long after the contact: where it stays; a sink up to it; one that dies away over the flare. */
function heightTerms(sinceS: number, into: Float64Array): void {
  const before = Math.max(-sinceS, 0);
  into[0] = 1;
  into[1] = before;
  into[2] = before < FLARE_S ? before ** 2 / (2 * FLARE_S) : before - FLARE_S / 2;
  into[3] = 0;
}

/** Of the speed: that at the contact; an even change up to it; a loss that sets in over the flare; the roll. */
function speedTerms(sinceS: number, into: Float64Array): void {
  const before = Math.max(-sinceS, 0);
  into[0] = 1;
  into[1] = before;
  into[2] = before < FLARE_S ? before - before ** 2 / (2 * FLARE_S) : FLARE_S / 2;
  into[3] = Math.max(sinceS, 0);
}

const TERMS = 4;
const terms = new Float64Array(TERMS);
/** Upper triangle of the normal equations by rows, then their right side. */
const normal = new Float64Array(TERMS * TERMS);
const right = new Float64Array(TERMS);

/** Mean square misfit of the best combination of the terms, for a contact at a moment. */
function misfit(
  timeS: Float64Array,
  values: Float64Array,
  first: number,
  last: number,
  atS: number,
  termsAt: (sinceS: number, into: Float64Array) => void,
): number {
  normal.fill(0);
  right.fill(0);
  let squares = 0;
  for (let i = first; i <= last; i++) {
    const value = values[i] as number;
    termsAt((timeS[i] as number) - atS, terms);
    squares += value * value;
    for (let a = 0; a < TERMS; a++) {
      const term = terms[a] as number;
      right[a] = (right[a] as number) + term * value;
      for (let b = a; b < TERMS; b++) {
        normal[a * TERMS + b] = (normal[a * TERMS + b] as number) + term * (terms[b] as number);
      }
    }
  }
  return Math.max(squares - explained(), 1e-9 * squares + 1e-9) / (last - first + 1);
}

/** Square sum that the least-squares combination explains, by Cholesky in place; a term that adds nothing is left out. */
function explained(): number {
  let sum = 0;
  for (let a = 0; a < TERMS; a++) {
    const pivot = normal[a * TERMS + a] as number;
    if (!(pivot > 1e-9)) continue;
    const part = (right[a] as number) / pivot;
    sum += part * (right[a] as number);
    for (let b = a + 1; b < TERMS; b++) {
      const row = normal[a * TERMS + b] as number;
      right[b] = (right[b] as number) - part * row;
      for (let c = b; c < TERMS; c++) {
        normal[b * TERMS + c] = (normal[b * TERMS + c] as number) - (row * (normal[a * TERMS + c] as number)) / pivot;
      }
    }
  }
  return sum;
}

/** Speed over the ground of each sample, from places before and after it; null: the log has none on this runway. */
function speedsKt(flight: Flight): Float64Array | null {
  const { timeS, count } = flight;
  const speeds = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [fromS, toS] = within(timeS, count, timeS[i] as number, SPEED_OVER_S / 2);
    const [from, to] = [flight.place(fromS), flight.place(toS)];
    if (from === null || to === null || !(toS > fromS)) return null;
    speeds[i] = Math.hypot(to.alongFt - from.alongFt, to.acrossFt - from.acrossFt) / (toS - fromS) / FT_S_PER_KT;
  }
  return speeds;
}

function within(timeS: Float64Array, count: number, atS: number, halfS: number): [number, number] {
  return [Math.max(atS - halfS, timeS[0] as number), Math.min(atS + halfS, timeS[count - 1] as number)];
}

function stoppedAfter(flight: Flight, slow: number): number | null {
  const { timeS, count } = flight;
  const lastS = timeS[count - 1] as number;
  for (let i = slow; i < count; i++) {
    const atS = timeS[i] as number;
    if (atS + STOPPED_OVER_S > lastS) return null;
    const [from, to] = [flight.place(atS), flight.place(atS + STOPPED_OVER_S)];
    if (from === null || to === null) return null;
    if (Math.hypot(to.alongFt - from.alongFt, to.acrossFt - from.acrossFt) < STOPPED_FT) return atS;
  }
  return null;
}
