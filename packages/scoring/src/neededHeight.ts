// The lowest height from which a return works at one place, found in a bounded number of modelled flights.
import { type FlightStart, type FlyRequest, flyAttempt, type Outcome } from '@stillprop/physics';
import { rounded } from './words.js';

/** Heights tried above the one there was (ft), when that one falls short; and how closely the edge is found. */
const HIGHER_FT = [100, 300, 800];
/** For a technique that may be far worse than the one asked. */
const FAR_HIGHER_FT = [100, 300, 800, 1500, 2800];
const PRECISION_FT = 2;

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
 * short first, then stop on the runway, then overrun it or pass over it; so the search halves its way to the edge between falling short
 * and reaching the runway, below the height there was when that reaches, and up to 800 ft above it when it does not.
 * At most 14 heights are flown from 1 000 ft. A flight that meets the ground at `crashSinkFpm` or more reaches nothing.
 *
 * @throws {RangeError} As `flyAttempt`.
 */
export function neededHeight(request: FlyRequest, start: FlightStart, crashSinkFpm: number): NeededHeight {
  const { first, reached, edge, triedUpToFt } = searched(request, start, crashSinkFpm, HIGHER_FT);
  const common = { returnExisted: first === 'stopped-on-runway', reached, triedUpToFt };
  if (edge === null) return { ...common, neededFt: null };
  return { ...common, neededFt: edge.outcome === 'stopped-on-runway' ? rounded(edge.heightFt, 0) : null };
}

/**
 * The lowest height at which the runway is reached, stopping on it or not, within 2 ft; looked for up to 2,800 ft above
 * the height there was. null: none.
 *
 * @throws {RangeError} As `flyAttempt`.
 */
export function reachingHeight(request: FlyRequest, start: FlightStart, crashSinkFpm: number): number | null {
  return searched(request, start, crashSinkFpm, FAR_HIGHER_FT).edge?.heightFt ?? null;
}

interface Tried {
  readonly heightFt: number;
  readonly outcome: Ended;
}

function searched(request: FlyRequest, start: FlightStart, crashSinkFpm: number, higherBy: readonly number[]) {
  const hadFt = start.heightFt;
  const outcomeAt = (heightFt: number): Ended => {
    const { outcome, touchdown } = flyAttempt(request, { start: { ...start, heightFt } });
    if (touchdown.sinkFpm >= crashSinkFpm) return 'crash';
    const isPast = touchdown.alongFt < 0 && Math.abs(touchdown.acrossFt) <= request.runway.widthFt;
    return isPast && !REACHED.has(outcome) ? 'passed-over' : outcome;
  };
  const first = outcomeAt(hadFt);
  const reached = REACHED.has(first);
  let fails = reached ? 0 : hadFt;
  let works: Tried | null = reached ? { heightFt: hadFt, outcome: first } : null;
  if (!reached)
    for (const higherFt of higherBy) {
      const outcome = outcomeAt(hadFt + higherFt);
      if (REACHED.has(outcome)) {
        works = { heightFt: hadFt + higherFt, outcome };
        break;
      }
      fails = hadFt + higherFt;
    }
  if (works === null) return { first, reached, edge: null, triedUpToFt: fails };
  let edge = works;
  while (edge.heightFt - fails > PRECISION_FT) {
    const heightFt = (edge.heightFt + fails) / 2;
    const outcome = outcomeAt(heightFt);
    if (REACHED.has(outcome)) edge = { heightFt, outcome };
    else fails = heightFt;
  }
  return { first, reached, edge, triedUpToFt: works.heightFt };
}

/** `passed-over`: on the centreline, beyond the far end, for want of a way to lose the height there was. */
type Ended = Outcome | 'crash' | 'passed-over';
const REACHED: ReadonlySet<Ended> = new Set(['stopped-on-runway', 'overrun', 'passed-over']);
