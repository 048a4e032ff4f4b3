// The turn after the loss of power: how far, to which side, a return or ahead; and where it was established and ended.
import { firstCrossing, firstHeld, samplesWithin, valueAt } from './columns.js';
import { type Flight, meanAround } from './flight.js';

/** Never turned more than this from the take-off track: landed ahead. */
export const AHEAD_DEG = 45;
/** With a technique that lands ahead, a turn this far is no longer ahead. */
const NO_LONGER_AHEAD_DEG = 120;
/** Wings level again: bank into the turn below this, held for a second. */
export const LEVEL_BANK_DEG = 10;
const LEVEL_HOLD_S = 1;
/** The turn is established from this share of the bank asked (or of the largest flown, if that is less). */
const ESTABLISHED = 0.9;
const NO_TURN_BANK_DEG = 90;

export interface TurnFlown {
  /** Right +1, left -1; null when it never turned more than 45°. */
  readonly side: 1 | -1 | null;
  readonly kind: 'return' | 'ahead';
  /** Largest change of heading from that at the loss, positive whichever side (deg). */
  readonly turnedDeg: number;
  readonly turned90S: number | null;
  readonly turned180S: number | null;
}

/**
 * What the heading did from the loss of power to the end. Ahead: never more than 45° from the heading at the loss
 * (mean over ±0.5 s), or, with a technique that lands ahead, never more than 120°. A flight that has not come down
 * when the recording ends is a return unless the technique lands ahead.
 */
export function turnFlown(flight: Flight, lossS: number, toS: number, landed: boolean): TurnFlown {
  const { timeS, headingDeg } = flight;
  const startDeg = meanAround(flight, headingDeg, lossS, 0.5);
  const change = headingDeg.map((heading) => heading - startDeg);
  const span = samplesWithin(timeS, lossS, toS);
  let largest = 0;
  let side: 1 | -1 | null = null;
  let banked = 0; // bank times time since the loss: its sign is the side turned to, even if the heading then tumbles
  if (span !== null)
    for (let i = span.first; i <= span.last; i++) {
      if (i > span.first)
        banked += (flight.bankSmoothDeg[i] as number) * ((timeS[i] as number) - (timeS[i - 1] as number));
      largest = Math.max(largest, Math.abs(change[i] as number));
      if (side === null && largest > AHEAD_DEG) side = banked >= 0 ? 1 : -1;
    }
  const { turn } = flight.recording.header.scenario.technique;
  const limitDeg = turn === 'ahead' ? NO_LONGER_AHEAD_DEG : AHEAD_DEG;
  const kind = largest > limitDeg || (!landed && turn !== 'ahead') ? 'return' : 'ahead';
  const intoTurn = change.map((now) => (side ?? 1) * now);
  return {
    side,
    kind,
    turnedDeg: largest,
    turned90S: side === null ? null : firstCrossing(timeS, intoTurn, 90, 'up', lossS, toS),
    turned180S: side === null ? null : firstCrossing(timeS, intoTurn, 180, 'up', lossS, toS),
  };
}

export interface FirstTurn {
  /** Bank reaches 90 % of the technique's bank, or of the largest the pilot put on if that is less. */
  readonly establishedS: number | null;
  /** Bank last stands at that share, or beyond the vertical, before the wings are rolled level or the ground is met. */
  readonly endsS: number | null;
  /** Bank into the turn falls below 10° for a second or more, after at least 45° of turn; null: not before `toS`. */
  readonly wingsLevelS: number | null;
}

/** Where the first turn of a return was established and where it ended. Bank is taken as its mean over ±0.25 s. */
export function firstTurn(flight: Flight, turn: TurnFlown, actionS: number, toS: number): FirstTurn {
  if (turn.side === null) return { establishedS: null, endsS: null, wingsLevelS: null };
  const side = turn.side;
  const { timeS, headingDeg } = flight;
  const intoTurn = flight.bankSmoothDeg.map((bank) => side * bank);
  const startDeg = valueAt(timeS, headingDeg, actionS);
  const turned = headingDeg.map((heading) => side * (heading - startDeg));
  const halfwayS = firstHeld(timeS, turned, AHEAD_DEG, 'above', 0, actionS, toS) ?? toS;
  const wingsLevelS = firstHeld(timeS, intoTurn, LEVEL_BANK_DEG, 'below', LEVEL_HOLD_S, halfwayS, toS);
  const span = samplesWithin(timeS, actionS, wingsLevelS ?? toS);
  if (span === null) return { establishedS: null, endsS: null, wingsLevelS };
  let largest = 0;
  for (let i = span.first; i <= span.last && Math.abs(intoTurn[i] as number) <= NO_TURN_BANK_DEG; i++)
    largest = Math.max(largest, intoTurn[i] as number); // the bank of a turn; beyond 90° it is none
  const threshold = ESTABLISHED * Math.min(largest, flight.recording.header.scenario.technique.bankDeg);
  if (threshold <= 0) return { establishedS: null, endsS: null, wingsLevelS };
  let first = span.first;
  while (first < span.last && (intoTurn[first] as number) < threshold) first++;
  let last = span.last;
  while (last > first && (intoTurn[last] as number) < threshold) last--;
  return last > first
    ? { establishedS: timeS[first] as number, endsS: timeS[last] as number, wingsLevelS }
    : { establishedS: null, endsS: null, wingsLevelS };
}
