// Airspeed: the target speed held from the first action to the flare, and the least margin over the stall.
import type { Attempt } from '../attempt.js';
import { firstHeld, samplesWithin, timeMean, valueAt } from '../columns.js';
import type { Flight } from '../flight.js';
import type { StallSeen } from '../stall.js';
import { knots, ratio, rounded } from '../words.js';
import { type Marked, marks, notMeasured } from './marks.js';

/** Time the aeroplane is given to reach the target speed after the first action; common practice, no source. */
const SETTLE_S = 8;
/** Less than this says nothing about holding a speed (s). */
const LEAST_SPAN_S = 1;

/**
 * Two things are marked and the lower counts.
 *
 * - *Speed held*: from where the indicated airspeed first comes within the full-marks band after the first action (at
 *   the latest 8 s after it: the time the push or the slowing down takes) to the flare, every moment is marked by its
 *   deviation from the target, fast and slow apart, and the marks are averaged over time. On the straight leg any
 *   speed between `targetKcas` and `straightKcas` is on target. Indicated is taken as calibrated.
 * - *Stall margin*: least V/(Vs·√n) from first action to flare (see `stallSeen`), full at `fullStallMargin`, none at
 *   1.00, and none after a stall. Vs is that of the flap recorded; n is recorded, or estimated from bank and flight
 *   path, which the text says.
 */
export function airspeedCriterion({ recording, flight, moments, stall }: Attempt): Marked {
  const { airspeed } = recording.header.rubric;
  const { targetKcas, straightKcas = targetKcas } = recording.header.scenario.technique;
  const band = { from: targetKcas - airspeed.fullBelowKt, to: targetKcas + airspeed.fullAboveKt };
  const absent = (text: string) => notMeasured(targetKcas, 'kt', band, text);
  const { lossS, firstActionS } = moments;
  if (lossS === null) return absent('Not measured: no loss of power in this recording.');
  if (firstActionS === null) return absent('Not measured: nothing decisive was done, so no speed was aimed at.');
  const { timeS, iasKt } = flight;
  const span = heldSpan(flight, moments, band);
  if (span === null) return absent('Not measured: too little was flown between the first action and the flare.');
  const { fromS, toS } = span;
  const straight = straightLeg(moments);
  const speedAt = (atS: number) => valueAt(timeS, iasKt, atS);
  const deviationAt = (atS: number) => {
    const onStraight = straight !== null && atS >= straight.fromS && atS <= straight.toS;
    const low = onStraight ? Math.min(targetKcas, straightKcas) : targetKcas;
    const high = onStraight ? Math.max(targetKcas, straightKcas) : targetKcas;
    const speed = speedAt(atS);
    return speed > high ? speed - high : Math.min(speed - low, 0);
  };
  const marksAt = (atS: number) => {
    const deviation = deviationAt(atS);
    return deviation > 0
      ? marks(deviation, airspeed.fullAboveKt, airspeed.zeroAboveKt)
      : marks(-deviation, airspeed.fullBelowKt, airspeed.zeroBelowKt);
  };
  const speedMarks = timeMean(timeS, fromS, toS, marksAt) as number;
  const meanKt = timeMean(timeS, fromS, toS, speedAt) as number;
  const deviationKt = timeMean(timeS, fromS, toS, (atS) => Math.abs(deviationAt(atS))) as number;
  const marginMarks = marginMarksOf(stall, airspeed.fullStallMargin);
  const margin =
    stall.leastMargin === null
      ? ''
      : ` Least speed over the stall speed ${ratio(stall.leastMargin)}${flight.loadFactorFrom === 'estimated' ? ' (load factor estimated)' : ''}.`;
  return {
    score: Math.min(speedMarks, marginMarks),
    measured: rounded(meanKt, 1),
    target: targetKcas,
    unit: 'kt',
    band,
    atS:
      marginMarks < speedMarks ? (stall.stalledAtS ?? stall.leastMarginAtS) : worstMoment(timeS, marksAt, fromS, toS),
    text: `${speedSentence(meanKt, targetKcas, deviationKt, band)}${margin}`,
    details: {
      deviationKt: rounded(deviationKt, 1),
      leastStallMargin: stall.leastMargin,
      fromS: rounded(fromS),
      toS: rounded(toS),
      speedMarks: rounded(speedMarks, 1),
      marginMarks: stall.leastMargin === null ? null : rounded(marginMarks, 1),
    },
  };
}

/**
 * Mean over time of the speed's deviation from the target (kt, faster positive), where it is marked: from settling to
 * the flare, and on the straight leg from `straightKcas` where the technique has one. null: nothing to measure.
 */
export function meanSpeedOff({ recording, flight, moments }: Attempt): number | null {
  const { airspeed } = recording.header.rubric;
  const { targetKcas, straightKcas = targetKcas } = recording.header.scenario.technique;
  const band = { from: targetKcas - airspeed.fullBelowKt, to: targetKcas + airspeed.fullAboveKt };
  const span = heldSpan(flight, moments, band);
  if (span === null) return null;
  const straight = straightLeg(moments);
  return timeMean(flight.timeS, span.fromS, span.toS, (atS) => {
    const onStraight = straight !== null && atS >= straight.fromS && atS <= straight.toS;
    return valueAt(flight.timeS, flight.iasKt, atS) - (onStraight ? straightKcas : targetKcas);
  });
}

/** From where the speed has settled to the flare; null: too little. */
function heldSpan(
  flight: Flight,
  moments: Attempt['moments'],
  band: { from: number; to: number },
): { fromS: number; toS: number } | null {
  const { lossS, firstActionS } = moments;
  if (lossS === null || firstActionS === null) return null;
  const toS = moments.flareS ?? moments.contactS ?? moments.endS;
  const fromS = settledFrom(flight, band, Math.max(firstActionS, lossS), toS);
  return toS - fromS < LEAST_SPAN_S ? null : { fromS, toS };
}

function marginMarksOf({ leastMargin, stalledAtS }: StallSeen, fullStallMargin: number): number {
  if (stalledAtS !== null) return 0;
  return leastMargin === null ? 100 : marks(-leastMargin, -fullStallMargin, -1);
}

function speedSentence(
  meanKt: number,
  targetKcas: number,
  deviationKt: number,
  band: { from: number; to: number },
): string {
  const mean = `${knots(meanKt)} on average`;
  const target = `the ${knots(targetKcas)} asked`;
  if (meanKt > band.to) return `${mean}, ${knots(meanKt - targetKcas)} faster than ${target}.`;
  if (meanKt < band.from) return `${mean}, ${knots(targetKcas - meanKt)} slower than ${target}.`;
  return `${mean} for ${target}, off by ${knots(deviationKt)} over the time.`;
}

function settledFrom(
  { timeS, iasKt }: Flight,
  band: { from: number; to: number },
  actionS: number,
  toS: number,
): number {
  const latestS = Math.min(actionS + SETTLE_S, toS);
  const start = valueAt(timeS, iasKt, actionS);
  if (start >= band.from && start <= band.to) return actionS;
  const settledS =
    start < band.from
      ? firstHeld(timeS, iasKt, band.from, 'above', 0, actionS, latestS)
      : firstHeld(timeS, iasKt, band.to, 'below', 0, actionS, latestS);
  return settledS ?? latestS;
}

function straightLeg(moments: Attempt['moments']): { fromS: number; toS: number } | null {
  if (moments.wingsLevelS === null) return null;
  const toS = moments.alignedS ?? moments.alignBeginsS ?? moments.flareS ?? moments.endS;
  return toS > moments.wingsLevelS ? { fromS: moments.wingsLevelS, toS } : null;
}

function worstMoment(timeS: Float64Array, marksAt: (atS: number) => number, fromS: number, toS: number): number {
  const span = samplesWithin(timeS, fromS, toS);
  let worstS = fromS;
  let worst = marksAt(fromS);
  if (span !== null)
    for (let i = span.first; i <= span.last; i++) {
      const now = marksAt(timeS[i] as number);
      if (now >= worst) continue;
      worst = now;
      worstS = timeS[i] as number;
    }
  return worstS;
}
