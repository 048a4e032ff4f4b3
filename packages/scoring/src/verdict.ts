// The verdict: from the recorded state at the failure, what height a return needed and what there was.
import type { Verdict } from '@stillprop/contracts';
import type { Attempt } from './attempt.js';
import { valueAt } from './columns.js';
import { type NeededHeight, neededHeight } from './neededHeight.js';
import { didNotObey } from './powerLost.js';
import { momentOf } from './recordedMoment.js';
import { returning } from './returnMoment.js';
import { crashSinkFpm } from './touchdown.js';
import { feet, rounded } from './words.js';

/** A verdict, and what one standard error of an estimated wind does to the height needed (ft). */
export interface Reckoned extends Verdict {
  readonly giveOrTakeFt: number | null;
}

/**
 * Flies the scenario's technique (turning back, should it say ahead) by the model, from the place, height, speed,
 * heading and climb recorded at the failure, in the scenario's weather (with the wind the recording tells of where that
 * contradicts it, see `windFlown`), with the propeller and power of the failure.
 * Needed is the lowest height at that place from which it stops on the runway, having met it more gently than a crash;
 * a return existed if it does from the height there was. Null for needed: none found (see `neededHeight`).
 *
 * All figures are null, and the sentence says why, without a failure, without a position, over a floor, or where the
 * recorded numbers are outside what the model flies.
 */
export function verdictOf(attempt: Attempt): Reckoned {
  const { flight, moments, recording } = attempt;
  const { lossS } = moments;
  if (lossS === null)
    return unknown(
      didNotObey(recording) === undefined
        ? 'No verdict: there was no loss of power in this recording.'
        : 'No verdict: the simulator did not obey the command to fail the engine, so no power was lost.',
      null,
    );
  const hadFt = rounded(valueAt(flight.timeS, flight.heightFt, lossS), 0);
  const found = momentOf(flight, lossS, attempt.wind?.weather);
  if (!found.ok) return unknown(`No verdict: ${found.why}.`, hadFt);
  const { request, start } = found.moment;
  try {
    const needed = neededHeight(returning(request), start, crashSinkFpm(recording.header.rubric));
    const { neededFt, returnExisted } = needed;
    const giveOrTakeFt = neededFt === null ? null : windGiveOrTakeFt(attempt, neededFt);
    return { text: verdictText(needed, hadFt, giveOrTakeFt), neededFt, hadFt, returnExisted, giveOrTakeFt };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return unknown(`No verdict: ${error.message}.`, hadFt);
  }
}

/**
 * The height needed with the estimated wind along the runway one standard error stronger and weaker: the larger
 * difference, in tens of feet. null where the scenario's wind is reckoned with, or no height is found.
 */
function windGiveOrTakeFt({ flight, moments, recording, wind }: Attempt, neededFt: number): number | null {
  if (wind === null || wind.source !== 'estimated' || moments.lossS === null) return null;
  let most = 0;
  for (const sign of [1, -1] as const) {
    const found = momentOf(flight, moments.lossS, wind.shifted(sign));
    if (!found.ok) return null;
    const { request, start } = found.moment;
    const other = neededHeight(returning(request), start, crashSinkFpm(recording.header.rubric)).neededFt;
    if (other === null) return null;
    most = Math.max(most, Math.abs(other - neededFt));
  }
  return Math.max(10, 10 * Math.round(most / 10));
}

function verdictText(
  { neededFt, returnExisted, reached, triedUpToFt }: NeededHeight,
  hadFt: number,
  giveOrTakeFt: number | null,
): string {
  if (neededFt === null && reached)
    return `From where the power was lost, at ${feet(hadFt)}, the model reaches the runway but finds no height from which it also stops on it.`;
  if (neededFt === null)
    return `From where the power was lost, at ${feet(hadFt)}, the model finds no return, not even from ${feet(triedUpToFt)}.`;
  const known = giveOrTakeFt === null ? '' : `, give or take ${feet(giveOrTakeFt)} for the wind`;
  const figures = `From where the power was lost a return needed ${feet(neededFt)}${known}. There were ${feet(hadFt)}`;
  if (returnExisted) return `${figures}.`;
  if (hadFt < neededFt) return `${figures}: ${feet(neededFt - hadFt)} too few.`;
  return `${figures}, but from that height the model lands too far along to stop.`;
}

function unknown(text: string, hadFt: number | null): Reckoned {
  return { text, neededFt: null, hadFt, returnExisted: null, giveOrTakeFt: null };
}
