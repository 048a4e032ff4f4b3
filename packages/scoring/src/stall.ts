// Stall margin along the flight, and whether the wing stalled.
import { RAD_PER_DEG } from '@stillprop/physics';
import { samplesWithin, smoothed, valueAt } from './columns.js';
import { PATH_RATE_HALF_S } from './derivedColumns.js';
import type { Flight } from './flight.js';
import type { Moments } from './moments.js';

/** Speed and load factor are means over ±0.125 s. */
const SMOOTH_S = 0.125;
/** At or below these a wing has stalled: load factor recorded, or only estimated from bank and path. */
const STALLED_RECORDED = 1.0;
const STALLED_ESTIMATED = 0.97;
/** A warning this long is no chirp (s). */
const WARNING_S = 0.5;
/** While warned: this little margin, or lift that no longer carries the weight, is a stall and not only a warning. */
const WARNED_MARGIN = 1.02;
const WARNED_LIFT = 0.85;
/** A wing passes its largest lift a little before the warning of it is sampled (s). */
const WARNED_LATE_S = 0.3;

export interface StallSeen {
  /** Least speed over stall speed from first action (or loss) to flare, to the hundredth; null: not measured. */
  readonly leastMargin: number | null;
  readonly leastMarginAtS: number | null;
  /** Start of the stall; null: none. */
  readonly stalledAtS: number | null;
  /** Start and length of the longest warning; null: none. */
  readonly warning: { readonly atS: number; readonly lastsS: number } | null;
}

/**
 * Least stall margin V/(Vs·√n) and stalls between the loss of power (a stall), or the first action (the margin), and
 * the flare. A stall is a margin of 1.00 or less with a recorded load factor (0.97 with an estimated one), or a
 * recorded stall warning of 0.5 s or more in which the margin fell to 1.02, or the lift upwards fell below 0.85 of
 * the weight for as long: a wing past its largest lift carries less, and its computed margin grows again. The last
 * 0.125 s before the contact, or the end, are left out (0.525 s with an estimated load factor): meeting the ground is
 * no pull.
 */
export function stallSeen(flight: Flight, moments: Moments): StallSeen {
  const nothing: StallSeen = { leastMargin: null, leastMarginAtS: null, stalledAtS: null, warning: null };
  const { lossS } = moments;
  if (lossS === null) return nothing;
  const { timeS } = flight;
  // Nearer the end than the means reach there is only one side of them, and beyond it the ground.
  const reachS = SMOOTH_S + (flight.loadFactorFrom === 'estimated' ? PATH_RATE_HALF_S : 0);
  const lastS = (moments.contactS ?? moments.endS) - reachS;
  const toS = Math.min(moments.flareS ?? lastS, lastS);
  const fromS = Math.max(moments.firstActionS ?? lossS, lossS);
  const ias = smoothed(timeS, flight.iasKt, SMOOTH_S);
  const span = samplesWithin(timeS, lossS, toS);
  if (span === null) return nothing;
  const limit = flight.loadFactorFrom === 'recorded' ? STALLED_RECORDED : STALLED_ESTIMATED;
  let leastMargin: number | null = null;
  let leastMarginAtS: number | null = null;
  let stalledAtS: number | null = null;
  for (let i = span.first; i <= span.last; i++) {
    const margin = (ias[i] as number) / (flight.stallKt[i] as number);
    if (!Number.isFinite(margin)) continue;
    const atS = timeS[i] as number;
    if (margin <= limit) stalledAtS ??= atS;
    if (atS < fromS || (leastMargin !== null && margin >= leastMargin)) continue;
    leastMargin = margin;
    leastMarginAtS = atS;
  }
  const warnings = warningsIn(flight, span.first, span.last);
  for (const { atS, lastsS } of warnings)
    if (lastsS >= WARNING_S && isStall(flight, ias, atS, lastsS)) stalledAtS = Math.min(stalledAtS ?? atS, atS);
  const warning = warnings.reduce<StallSeen['warning']>(
    (longest, next) => (longest === null || next.lastsS > longest.lastsS ? next : longest),
    null,
  );
  return {
    leastMargin: leastMargin === null ? null : Math.round(leastMargin * 100) / 100,
    leastMarginAtS,
    stalledAtS,
    warning: warning !== null && warning.lastsS >= WARNING_S ? warning : null,
  };
}

function warningsIn(flight: Flight, first: number, last: number): { atS: number; lastsS: number }[] {
  const { timeS, stallWarning } = flight;
  const spells: { atS: number; lastsS: number }[] = [];
  if (stallWarning === null) return spells;
  let since: number | null = null;
  for (let i = first; i <= last + 1; i++) {
    const on = i <= last && stallWarning[i] === 1;
    if (on) since ??= timeS[i] as number;
    else if (since !== null) {
      spells.push({ atS: since, lastsS: (timeS[Math.min(i, last)] as number) - since });
      since = null;
    }
  }
  return spells;
}

function isStall(flight: Flight, ias: Float64Array, atS: number, lastsS: number): boolean {
  const { timeS } = flight;
  const span = samplesWithin(timeS, atS - WARNED_LATE_S, atS + lastsS);
  if (span === null) return false;
  let weakSinceS: number | null = null;
  for (let i = span.first; i <= span.last; i++) {
    const now = timeS[i] as number;
    if ((ias[i] as number) / (flight.stallKt[i] as number) <= WARNED_MARGIN) return true;
    const upwards = (flight.loadFactor[i] as number) * Math.cos(valueAt(timeS, flight.bankDeg, now) * RAD_PER_DEG);
    if (upwards >= WARNED_LIFT) weakSinceS = null;
    else weakSinceS ??= now;
    if (weakSinceS !== null && now - weakSinceS >= WARNING_S) return true;
  }
  return false;
}
