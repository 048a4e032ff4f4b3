// The pilot's first decisive action: nose pushed down, or bank put on into the turn.
import { firstHeld, fitLine, indexAt, samplesWithin, smoothed, spreadOf, valueAt } from './columns.js';
import { type Flight, meanAround } from './flight.js';
import { actionInGap } from './gapAction.js';
import { pitchBeyondHandsOff } from './handsOff.js';
import { breakOf, type Span, slopeDeviation, windowEnd } from './onset.js';

/** `nose-down`: pushed; `nose-held`: kept from dropping further by itself; `bank`: into the turn; `both`: down and bank. */
export type Control = 'nose-down' | 'nose-held' | 'bank' | 'both';
export interface FirstAction {
  readonly atS: number;
  readonly control: Control;
  /** It began in a gap of the data and may have been so much earlier or later (s). */
  readonly giveOrTakeS?: number;
}

/** Both controls within this time count as one movement (s). */
const TOGETHER_S = 0.3;
/** An action must come to something: this much within this time, or it was a wobble. */
const COMES_TO_WITHIN_S = 3;
const PITCH_COMES_TO_DEG = 4;
/** And so much of it beyond hands off, at once. */
const BEYOND_COMES_TO_DEG = 1.5;
const BEYOND_WITHIN_S = 1;
const BANK_COMES_TO_DEG = 10;
/** A nose that has not fallen by this since the loss has not been caught: it was never let go. */
const FELL_DEG = 2;
/** Reacting before the loss is looked for this far back, and only where it still stood at the loss. */
const EARLY_S = 5;
/** An action later than this after a total loss is none that could still decide anything; common practice, no source. */
const LATEST_S = 15;
/** Slopes must stand out of those met in the climb, over at least so many samples, by this many standard deviations. */
const SLOPE_FACTOR = 4;
const AMPLITUDE_FACTOR = 3;
const CLIMB_SPAN_S = 20;
const AFTER_LIFT_OFF_S = 5;
const NOISY_DEG = 0.05;
const SAMPLES_CLEAN = 3;
const SAMPLES_NOISY = 5;
/** Without a clear beginning: this far from the hands-off attitude for a second, somebody has been flying. */
const DEPARTED_DEG = 10;
const DEPARTED_HOLD_S = 1;
const DEPARTS_DEG = 3;
const BASE_S = 1;
const SMOOTH_S = 0.2;

/**
 * First decisive action after the loss of power, with the rubric's rates, each held for `holdS`:
 *
 * - *pitch*: the nose leaves the attitude it would take hands off (see `pitchBeyondHandsOff`) by at least
 *   `decisivePitchDownDegS`: pushed down, or, when it has long been falling by itself, held. The nose that drops with
 *   nobody at the stick is no action, nor is one that stands where it stood: only a nose that has fallen by 2° can be
 *   held, and a step of vertical speed that the pitch does not share is none of the pilot's doing. A push must bring the nose down by 4° within 3 s, 1.5° beyond hands off within 1 s; a
 *   hold must come to 4° beyond hands off.
 * - *bank*: bank into the turn (either side when landing ahead) at `decisiveBankRateDegS` or more, to 10° within 3 s.
 *
 * Rates are slopes of straight lines through all samples of the span, which must also stand out of the slopes that
 * noise and gusts made in the climb before; the moment is the break of the two-piece line that fits best there, so it
 * does not hang on one sample. An attitude that ends far from hands off without any such beginning (rough air, coarse
 * data) counts from where it left it. After a total loss only the first 15 s are searched. A simulator whose nose drops by its trim alone when the power goes needs a rubric with a higher pitch rate.
 *
 * An action that began in a gap of more than 1 s has no beginning to be seen: see `actionInGap`.
 *
 * @param side Side of the turn; null: either.
 * @returns null when nothing decisive was done up to `toS`.
 */
export function firstAction(
  flight: Flight,
  liftOffS: number,
  lossS: number,
  endS: number,
  side: 1 | -1 | null,
): FirstAction | null {
  const total = flight.recording.header.drawn.kind === 'total';
  const toS = total ? Math.min(endS, lossS + LATEST_S) : endS;
  const climb = { fromS: Math.max(liftOffS + AFTER_LIFT_OFF_S, lossS - CLIMB_SPAN_S), toS: lossS };
  const beyond = pitchBeyondHandsOff(flight, lossS);
  const downS = noseDown(flight, beyond, lossS, toS, climb);
  const heldS = noseHeld(flight, beyond, lossS, toS, climb);
  const bankS = bankAction(flight, lossS, toS, side, climb);
  const found: FirstAction[] = [];
  if (downS !== null) found.push({ atS: downS, control: 'nose-down' });
  if (bankS !== null) found.push({ atS: bankS, control: 'bank' });
  if (heldS !== null) found.push({ atS: heldS, control: 'nose-held' });
  const first = found.reduce<FirstAction | null>((a, b) => (a === null || b.atS < a.atS ? b : a), null);
  const hidden = actionInGap(flight, beyond, lossS, toS, side);
  if (hidden !== null && (first === null || first.atS >= hidden.gapFromS)) {
    const { atS, control, giveOrTakeS } = hidden;
    return { atS, control, giveOrTakeS };
  }
  if (first === null) return departure(flight, beyond, lossS, toS, climb);
  if (downS === null || bankS === null || first.control === 'nose-held' || Math.abs(downS - bankS) > TOGETHER_S)
    return first;
  return { atS: first.atS, control: 'both' };
}

/** An action that had begun in the 5 s before the loss and still stood at it (10° of bank, 4° of pitch); else null. */
export function earlyAction(flight: Flight, liftOffS: number, lossS: number): FirstAction | null {
  const fromS = Math.max(liftOffS + AFTER_LIFT_OFF_S, lossS - EARLY_S);
  const climb = { fromS: Math.max(liftOffS + AFTER_LIFT_OFF_S, fromS - CLIMB_SPAN_S), toS: fromS };
  const bankS = bankAction(flight, fromS, lossS, null, climb);
  if (bankS !== null && Math.abs(valueAt(flight.timeS, flight.bankSmoothDeg, lossS)) >= BANK_COMES_TO_DEG)
    return { atS: bankS, control: 'bank' };
  const beyond = pitchBeyondHandsOff(flight, fromS);
  const downS = noseDown(flight, beyond, fromS, lossS, climb);
  if (downS === null) return null;
  const atLoss = fitLine(flight.timeS, beyond, lossS - 1, lossS)?.at(lossS) ?? 0;
  return atLoss <= -PITCH_COMES_TO_DEG ? { atS: downS, control: 'nose-down' } : null;
}

function noseDown(flight: Flight, beyond: Float64Array, fromS: number, toS: number, climb: Span): number | null {
  const { delay } = flight.recording.header.rubric;
  const { timeS } = flight;
  const pitch = smoothed(timeS, flight.pitchDeg, SMOOTH_S);
  const smooth = smoothed(timeS, beyond, SMOOTH_S);
  return riseStart(flight, negated(beyond), fromS, toS, climb, {
    rateDegS: delay.decisivePitchDownDegS,
    holdS: delay.holdS,
    comesToSomething: (atS, noise) =>
      fallAfter(timeS, pitch, atS, COMES_TO_WITHIN_S) >= PITCH_COMES_TO_DEG &&
      fallAfter(timeS, smooth, atS, BEYOND_WITHIN_S) >= BEYOND_COMES_TO_DEG &&
      fallAfter(timeS, smooth, atS, COMES_TO_WITHIN_S) >= AMPLITUDE_FACTOR * noise,
  });
}

function noseHeld(flight: Flight, beyond: Float64Array, lossS: number, toS: number, climb: Span): number | null {
  const { delay } = flight.recording.header.rubric;
  const { timeS } = flight;
  const downwards = negated(smoothed(timeS, beyond, SMOOTH_S));
  const fallen = noseFallen(flight, lossS);
  return riseStart(flight, beyond, lossS, toS, climb, {
    rateDegS: delay.decisivePitchDownDegS,
    holdS: delay.holdS,
    comesToSomething: (atS, noise) =>
      fallen(atS) &&
      fallAfter(timeS, downwards, atS, BEYOND_WITHIN_S) >= BEYOND_COMES_TO_DEG &&
      fallAfter(timeS, downwards, atS, COMES_TO_WITHIN_S) >= Math.max(PITCH_COMES_TO_DEG, AMPLITUDE_FACTOR * noise),
  });
}

/** Whether the nose has come down since the loss, by a time: its lowest in between, smoothed. */
function noseFallen(flight: Flight, lossS: number): (byS: number) => boolean {
  const { timeS } = flight;
  const pitch = smoothed(timeS, flight.pitchDeg, SMOOTH_S);
  const startDeg = meanAround(flight, flight.pitchDeg, lossS - BASE_S / 2, BASE_S / 2);
  return (byS) => startDeg - lowestAfter(timeS, pitch, lossS, byS - lossS) >= FELL_DEG;
}

function bankAction(flight: Flight, fromS: number, toS: number, side: 1 | -1 | null, climb: Span): number | null {
  const { delay } = flight.recording.header.rubric;
  const { timeS, bankDeg, bankSmoothDeg } = flight;
  const one = (sign: 1 | -1) => {
    const intoTurn = bankDeg.map((bank) => sign * bank);
    const outOfTurn = bankSmoothDeg.map((bank) => -sign * bank);
    return riseStart(flight, intoTurn, fromS, toS, climb, {
      rateDegS: delay.decisiveBankRateDegS,
      holdS: delay.holdS,
      comesToSomething: (atS) => lowestAfter(timeS, outOfTurn, atS, COMES_TO_WITHIN_S) <= -BANK_COMES_TO_DEG,
    });
  };
  if (side !== null) return one(side);
  const right = one(1);
  const left = one(-1);
  return right === null ? left : left === null ? right : Math.min(left, right);
}

function negated(column: Float64Array): Float64Array {
  return column.map((value) => -value);
}

interface Rise {
  readonly rateDegS: number;
  readonly holdS: number;
  comesToSomething(atS: number, noise: number): boolean;
}

/** Where a column first begins to rise at the rate asked, held for the time asked. */
function riseStart(
  flight: Flight,
  column: Float64Array,
  fromS: number,
  toS: number,
  climb: Span,
  rise: Rise,
): number | null {
  const { timeS, count } = flight;
  const noise = spreadOf(timeS, column, climb.fromS, climb.toS)?.deviation ?? 0;
  const window = { holdS: rise.holdS, samples: noise > NOISY_DEG ? SAMPLES_NOISY : SAMPLES_CLEAN };
  const rateDegS = Math.max(rise.rateDegS, SLOPE_FACTOR * slopeDeviation(timeS, column, climb, window));
  for (let i = Math.max(indexAt(timeS, fromS), 0); i < count; i++) {
    const startS = Math.max(timeS[i] as number, fromS);
    const endS = windowEnd(timeS, i, startS, window);
    if (startS >= toS || endS > toS) return null;
    const span = samplesWithin(timeS, startS, endS);
    if (span === null || span.last - span.first + 1 < SAMPLES_CLEAN) continue;
    const line = fitLine(timeS, column, startS, endS);
    if (line === null || line.slopePerS < rateDegS) continue;
    const fitToS = timeS[Math.min(span.last + 2, count - 1)] as number;
    const atS = breakOf(timeS, column, startS - BASE_S, Math.min(fitToS, toS), startS - rise.holdS, endS);
    if (rise.comesToSomething(Math.max(atS, startS), noise)) return Math.max(atS, fromS);
  }
  return null;
}

/** Far from the hands-off attitude for a second: the action counts from where the attitude last left it. */
function departure(flight: Flight, beyond: Float64Array, lossS: number, toS: number, climb: Span): FirstAction | null {
  const { timeS } = flight;
  const smooth = smoothed(timeS, beyond, SMOOTH_S);
  const size = smooth.map(Math.abs);
  const farS = firstHeld(timeS, size, DEPARTED_DEG, 'above', DEPARTED_HOLD_S, lossS, toS);
  if (farS === null) return null;
  const noise = spreadOf(timeS, beyond, climb.fromS, climb.toS)?.deviation ?? 0;
  const nearDeg = Math.min(Math.max(DEPARTS_DEG, AMPLITUDE_FACTOR * noise), DEPARTED_DEG);
  let i = Math.max(indexAt(timeS, farS), 0);
  while (i > 0 && (timeS[i] as number) > lossS && (size[i] as number) > nearDeg) i--;
  const atS = Math.max(timeS[i] as number, lossS);
  if (valueAt(timeS, smooth, farS) < 0) return { atS, control: 'nose-down' };
  return noseFallen(flight, lossS)(farS) ? { atS, control: 'nose-held' } : null;
}

/** How far a column falls below where it is, within a time. */
function fallAfter(timeS: Float64Array, column: Float64Array, atS: number, withinS: number): number {
  return valueAt(timeS, column, atS) - lowestAfter(timeS, column, atS, withinS);
}

function lowestAfter(timeS: Float64Array, column: Float64Array, atS: number, withinS: number): number {
  const span = samplesWithin(timeS, atS, atS + withinS);
  let least = valueAt(timeS, column, atS);
  if (span !== null) for (let i = span.first; i <= span.last; i++) least = Math.min(least, column[i] as number);
  return least;
}
