// The lowest height from which a return works at one place, found in a bounded number of modelled flights.
import { type FlightStart, type FlyRequest, flyAttempt } from '@stillprop/physics';
import { rounded } from './words.js';

/** Heights tried going down or up from the one there was (ft), at most so many, and how closely the edge is found. */
const STEP_FT = 100;
const STEPS_DOWN = 12;
const STEPS_UP = 8;
const PRECISION_FT = 2;
const LOWEST_FT = 50;

export interface NeededHeight {
  /** null: none found. */
  readonly neededFt: number | null;
  /** The model stops on the runway from the height there was. */
  readonly returnExisted: boolean;
  /** It reaches the runway from there, stopping or not. */
  readonly reached: boolean;
  /** Highest height tried (ft). */
  readonly triedUpToFt: number;
}

/**
 * Flies the request from a recorded start, then with the height alone changed. Going up from one place, returns fall
 * short first, then stop on the runway, then overrun it; so the search goes down while the runway is reached and up
 * (by at most 800 ft) while it is not, and closes in on the edge to 2 ft. At most 27 heights are flown.
 *
 * @throws {RangeError} As `flyAttempt`.
 */
export function neededHeight(request: FlyRequest, start: FlightStart): NeededHeight {
  const hadFt = start.heightFt;
  const outcomeAt = (heightFt: number) => flyAttempt(request, { start: { ...start, heightFt } }).outcome;
  const reaches = (heightFt: number) => REACHED.has(outcomeAt(heightFt));
  const first = outcomeAt(hadFt);
  const reached = REACHED.has(first);
  const step = reached ? Math.max(STEP_FT, hadFt / STEPS_DOWN) : STEP_FT;
  let works: number | null = reached ? hadFt : null;
  let fails = reached ? 0 : hadFt;
  if (reached)
    for (let heightFt = hadFt - step; heightFt >= LOWEST_FT; heightFt -= step) {
      if (!reaches(heightFt)) {
        fails = heightFt;
        break;
      }
      works = heightFt;
    }
  else
    for (let up = 1; up <= STEPS_UP && works === null; up++) {
      if (reaches(hadFt + up * step)) works = hadFt + up * step;
      else fails = hadFt + up * step;
    }
  const common = { returnExisted: first === 'stopped-on-runway', reached, triedUpToFt: works ?? fails };
  if (works === null) return { ...common, neededFt: null };
  let high = works;
  while (high - fails > PRECISION_FT) {
    const middle = (high + fails) / 2;
    if (reaches(middle)) high = middle;
    else fails = middle;
  }
  const stops = high === hadFt ? common.returnExisted : outcomeAt(high) === 'stopped-on-runway';
  return { ...common, neededFt: stops ? rounded(high, 0) : null };
}

const REACHED: ReadonlySet<string> = new Set(['stopped-on-runway', 'overrun']);
