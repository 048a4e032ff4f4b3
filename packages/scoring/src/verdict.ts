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

/**
 * Flies the scenario's technique (turning back, should it say ahead) by the model, from the place, height, speed,
 * heading and climb recorded at the failure, in the recorded weather, with the propeller and power of the failure.
 * Needed is the lowest height at that place from which it stops on the runway, having met it more gently than a crash;
 * a return existed if it does from the height there was. Null for needed: none found (see `neededHeight`).
 *
 * All figures are null, and the sentence says why, without a failure, without a position, over a floor, or where the
 * recorded numbers are outside what the model flies.
 */
export function verdictOf(attempt: Attempt): Verdict {
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
  const found = momentOf(flight, lossS);
  if (!found.ok) return unknown(`No verdict: ${found.why}.`, hadFt);
  const { request, start } = found.moment;
  try {
    const needed = neededHeight(returning(request), start, crashSinkFpm(recording.header.rubric));
    const { neededFt, returnExisted } = needed;
    return { text: verdictText(needed, hadFt), neededFt, hadFt, returnExisted };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return unknown(`No verdict: ${error.message}.`, hadFt);
  }
}

function verdictText({ neededFt, returnExisted, reached, triedUpToFt }: NeededHeight, hadFt: number): string {
  if (neededFt === null && reached)
    return `From where the power was lost, at ${feet(hadFt)}, the model reaches the runway but finds no height from which it also stops on it.`;
  if (neededFt === null)
    return `From where the power was lost, at ${feet(hadFt)}, the model finds no return, not even from ${feet(triedUpToFt)}.`;
  const figures = `From where the power was lost a return needed ${feet(neededFt)}. There were ${feet(hadFt)}`;
  if (returnExisted) return `${figures}.`;
  if (hadFt < neededFt) return `${figures}: ${feet(neededFt - hadFt)} too few.`;
  return `${figures}, but from that height the model lands too far along to stop.`;
}

function unknown(text: string, hadFt: number | null): Verdict {
  return { text, neededFt: null, hadFt, returnExisted: null };
}
