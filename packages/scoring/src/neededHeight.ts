// The lowest height from which a return works at one place, found in a bounded number of modelled flights.
import { type FlightStart, type FlyRequest, flyAttempt, type Outcome } from '@stillprop/physics';
import { rounded } from './words.js';

/** Heights tried above the one there was (ft), when that one falls short; and how closely the edge is found. */
const HIGHER_FT = [100, 300, 800];
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
 * short first, then stop on the runway, then overrun it; so the search halves its way to the edge between falling short
 * and reaching the runway, below the height there was when that reaches, and up to 800 ft above it when it does not.
 * At most 14 heights are flown from 1 000 ft. A flight that meets the ground at `crashSinkFpm` or more reaches nothing.
 *
 * @throws {RangeError} As `flyAttempt`.
 */
export function neededHeight(request: FlyRequest, start: FlightStart, crashSinkFpm: number): NeededHeight {
  const hadFt = start.heightFt;
  const outcomeAt = (heightFt: number): Outcome | 'crash' => {
    const { outcome, touchdown } = flyAttempt(request, { start: { ...start, heightFt } });
    return touchdown.sinkFpm >= crashSinkFpm ? 'crash' : outcome;
  };
  const first = outcomeAt(hadFt);
  const reached = REACHED.has(first);
  let fails = reached ? 0 : hadFt;
  let works: { heightFt: number; outcome: Outcome | 'crash' } | null = reached
    ? { heightFt: hadFt, outcome: first }
    : null;
  if (!reached)
    for (const higherFt of HIGHER_FT) {
      const outcome = outcomeAt(hadFt + higherFt);
      if (REACHED.has(outcome)) {
        works = { heightFt: hadFt + higherFt, outcome };
        break;
      }
      fails = hadFt + higherFt;
    }
  const common = { returnExisted: first === 'stopped-on-runway', reached };
  if (works === null) return { ...common, neededFt: null, triedUpToFt: fails };
  let edge = works;
  while (edge.heightFt - fails > PRECISION_FT) {
    const heightFt = (edge.heightFt + fails) / 2;
    const outcome = outcomeAt(heightFt);
    if (REACHED.has(outcome)) edge = { heightFt, outcome };
    else fails = heightFt;
  }
  const neededFt = edge.outcome === 'stopped-on-runway' ? rounded(edge.heightFt, 0) : null;
  return { ...common, neededFt, triedUpToFt: works.heightFt };
}

const REACHED: ReadonlySet<Outcome | 'crash'> = new Set(['stopped-on-runway', 'overrun']);
