// The pilot's first decisive action: nose pushed down, or bank put on into the turn.
import { fitLine, indexAt, samplesWithin, smoothed, spreadOf, valueAt } from './columns.js';
import type { Flight } from './flight.js';
import { pitchBeyondHandsOff } from './handsOff.js';

/** `nose-down`: pushed; `nose-held`: kept from dropping further by itself; `bank`: into the turn; `both`: down and bank. */
export type Control = 'nose-down' | 'nose-held' | 'bank' | 'both';
export interface FirstAction {
  readonly atS: number;
  readonly control: Control;
}

/** Both controls within this time count as one movement (s). */
const TOGETHER_S = 0.3;
/** An action must come to something: this much within this time, or it was a wobble. */
const COMES_TO_WITHIN_S = 3;
const PITCH_COMES_TO_DEG = 4;
const BANK_COMES_TO_DEG = 10;
/** Reacting before the loss is looked for this far back, and only where it still stood at the loss. */
const EARLY_S = 5;
/** A slope must stand out of the noise before the failure by this many standard errors, over at least so many samples. */
const NOISE_FACTOR = 3;
const NOISE_SPAN_S = 4;
const NOISY_DEG = 0.05;
const SAMPLES_CLEAN = 3;
const SAMPLES_NOISY = 5;
const BASE_S = 1;
const ONSET_STEP_S = 0.01;

/**
 * First decisive action after the loss of power, with the rubric's rates, each held for `holdS`:
 *
 * - *pitch*: the nose leaves the attitude it would take hands off (see `pitchBeyondHandsOff`) by at least
 *   `decisivePitchDownDegS`: pushed down, or, when it has long been falling by itself, held. The nose that drops with
 *   nobody at the stick is no action. A push must bring the nose down by 4° within 3 s, a hold must come to 4° likewise.
 * - *bank*: bank into the turn (either side when landing ahead) at `decisiveBankRateDegS` or more, to 10° within 3 s.
 *
 * Rates are slopes of straight lines through all samples of the span, which must also stand out of the noise seen
 * before the failure; the moment is the break of the two-piece line that fits best there, so it does not hang on one
 * sample. A simulator whose nose drops by its trim alone when the power goes needs a rubric with a higher pitch rate.
 *
 * @param side Side of the turn; null: either.
 * @returns null when nothing decisive was done up to `toS`.
 */
export function firstAction(flight: Flight, lossS: number, toS: number, side: 1 | -1 | null): FirstAction | null {
  const beyond = pitchBeyondHandsOff(flight, lossS);
  const downS = noseDown(flight, beyond, lossS, toS, lossS);
  const heldS = noseHeld(flight, beyond, lossS, toS);
  const bankS = bankAction(flight, lossS, toS, side, lossS);
  if (
    downS !== null &&
    bankS !== null &&
    Math.abs(downS - bankS) <= TOGETHER_S &&
    Math.min(downS, bankS) <= (heldS ?? toS)
  )
    return { atS: Math.min(downS, bankS), control: 'both' };
  const found: FirstAction[] = [];
  if (downS !== null) found.push({ atS: downS, control: 'nose-down' });
  if (bankS !== null) found.push({ atS: bankS, control: 'bank' });
  if (heldS !== null) found.push({ atS: heldS, control: 'nose-held' });
  return found.reduce<FirstAction | null>(
    (first, next) => (first === null || next.atS < first.atS ? next : first),
    null,
  );
}

/** An action that had begun in the 5 s before the loss and still stood at it (10° of bank, 4° of pitch); else null. */
export function earlyAction(flight: Flight, liftOffS: number, lossS: number): FirstAction | null {
  const fromS = Math.max(liftOffS, lossS - EARLY_S);
  const bankS = bankAction(flight, fromS, lossS, null, lossS - EARLY_S);
  if (bankS !== null && Math.abs(valueAt(flight.timeS, flight.bankSmoothDeg, lossS)) >= BANK_COMES_TO_DEG)
    return { atS: bankS, control: 'bank' };
  const beyond = pitchBeyondHandsOff(flight, fromS);
  const downS = noseDown(flight, beyond, fromS, lossS, fromS);
  if (downS === null) return null;
  const atLoss = fitLine(flight.timeS, beyond, lossS - 1, lossS)?.at(lossS) ?? 0;
  return atLoss <= -PITCH_COMES_TO_DEG ? { atS: downS, control: 'nose-down' } : null;
}

function noseDown(
  flight: Flight,
  beyond: Float64Array,
  fromS: number,
  toS: number,
  quietUntilS: number,
): number | null {
  const { delay } = flight.recording.header.rubric;
  const { timeS } = flight;
  const pitch = smoothed(timeS, flight.pitchDeg, 0.2);
  return riseStart(flight, negated(beyond), fromS, toS, quietUntilS, {
    rateDegS: delay.decisivePitchDownDegS,
    holdS: delay.holdS,
    comesToSomething: (atS) =>
      valueAt(timeS, pitch, atS) - lowest(timeS, pitch, atS, atS + COMES_TO_WITHIN_S) >= PITCH_COMES_TO_DEG,
  });
}

function noseHeld(flight: Flight, beyond: Float64Array, lossS: number, toS: number): number | null {
  const { delay } = flight.recording.header.rubric;
  const { timeS } = flight;
  const downwards = negated(smoothed(timeS, beyond, 0.2));
  return riseStart(flight, beyond, lossS, toS, lossS, {
    rateDegS: delay.decisivePitchDownDegS,
    holdS: delay.holdS,
    comesToSomething: (atS) =>
      valueAt(timeS, downwards, atS) - lowest(timeS, downwards, atS, atS + COMES_TO_WITHIN_S) >= PITCH_COMES_TO_DEG,
  });
}

function bankAction(
  flight: Flight,
  fromS: number,
  toS: number,
  side: 1 | -1 | null,
  quietUntilS: number,
): number | null {
  const { delay } = flight.recording.header.rubric;
  const { timeS, bankDeg, bankSmoothDeg } = flight;
  const one = (sign: 1 | -1) => {
    const intoTurn = bankDeg.map((bank) => sign * bank);
    const outOfTurn = bankSmoothDeg.map((bank) => -sign * bank);
    return riseStart(flight, intoTurn, fromS, toS, quietUntilS, {
      rateDegS: delay.decisiveBankRateDegS,
      holdS: delay.holdS,
      comesToSomething: (atS) => lowest(timeS, outOfTurn, atS, atS + COMES_TO_WITHIN_S) <= -BANK_COMES_TO_DEG,
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
  comesToSomething(atS: number): boolean;
}

/** Where a column first begins to rise at the rate asked, held for the time asked. */
function riseStart(
  flight: Flight,
  column: Float64Array,
  fromS: number,
  toS: number,
  quietUntilS: number,
  rise: Rise,
): number | null {
  const { timeS, count } = flight;
  const noise = spreadOf(timeS, column, quietUntilS - NOISE_SPAN_S, quietUntilS)?.deviation ?? 0;
  const needed = noise > NOISY_DEG ? SAMPLES_NOISY : SAMPLES_CLEAN;
  for (let i = Math.max(indexAt(timeS, fromS), 0); i < count; i++) {
    const startS = Math.max(timeS[i] as number, fromS);
    if (startS >= toS) return null;
    const endS = Math.max(startS + rise.holdS, timeS[Math.min(i + needed - 1, count - 1)] as number);
    if (endS > toS) return null;
    const line = fitLine(timeS, column, startS, endS);
    const span = samplesWithin(timeS, startS, endS);
    if (line === null || span === null || span.last - span.first + 1 < SAMPLES_CLEAN) continue;
    const samples = span.last - span.first + 1;
    const slopeError = (noise * Math.sqrt(12)) / ((endS - startS) * Math.sqrt(samples));
    if (line.slopePerS < Math.max(rise.rateDegS, NOISE_FACTOR * slopeError)) continue;
    const fitToS = timeS[Math.min(span.last + 2, count - 1)] as number;
    const atS = breakOf(timeS, column, startS - BASE_S, Math.min(fitToS, toS), startS - rise.holdS, endS);
    if (rise.comesToSomething(Math.max(atS, startS))) return Math.max(atS, fromS);
  }
  return null;
}

/** Time at which a level line best turns into a rising one: least squares over both pieces, to 0.01 s. */
function breakOf(
  timeS: Float64Array,
  column: Float64Array,
  fromS: number,
  toS: number,
  earliestS: number,
  latestS: number,
): number {
  const span = samplesWithin(timeS, fromS, toS);
  if (span === null) return earliestS;
  let best = latestS;
  let least = Number.POSITIVE_INFINITY;
  for (let step = 0; earliestS + step * ONSET_STEP_S <= latestS; step++) {
    const atS = earliestS + step * ONSET_STEP_S;
    const error = hingeError(timeS, column, span.first, span.last, atS);
    if (error < least - 1e-12) {
      least = error;
      best = atS;
    }
  }
  return best;
}

/** Squared error of y = a + b·max(0, t - atS), b not below 0, fitted to samples first..last. */
function hingeError(timeS: Float64Array, column: Float64Array, first: number, last: number, atS: number): number {
  const count = last - first + 1;
  let sumX = 0;
  let sumY = 0;
  let sumXX = 0;
  let sumXY = 0;
  let sumYY = 0;
  const origin = column[first] as number;
  for (let i = first; i <= last; i++) {
    const x = Math.max(0, (timeS[i] as number) - atS);
    const y = (column[i] as number) - origin;
    sumX += x;
    sumY += y;
    sumXX += x * x;
    sumXY += x * y;
    sumYY += y * y;
  }
  const varianceX = sumXX - (sumX * sumX) / count;
  const covariance = sumXY - (sumX * sumY) / count;
  const varianceY = sumYY - (sumY * sumY) / count;
  return varianceX > 1e-12 && covariance > 0 ? varianceY - (covariance * covariance) / varianceX : varianceY;
}

function lowest(timeS: Float64Array, column: Float64Array, fromS: number, toS: number): number {
  const span = samplesWithin(timeS, fromS, toS);
  let least = valueAt(timeS, column, fromS);
  if (span !== null) for (let i = span.first; i <= span.last; i++) least = Math.min(least, column[i] as number);
  return least;
}
