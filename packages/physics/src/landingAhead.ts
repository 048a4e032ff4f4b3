// Tells a return that never came round, and so came down ahead, from one that did.
import type { Outcome } from './request.js';
import { RAD_PER_DEG } from './units.js';

/** A first turn through less than this leads away from the runway just left: own choice. */
const TURNED_BACK_RAD = 90 * RAD_PER_DEG;

/**
 * True where an attempt to return touched the ground, off the runway it was judged against, before it had turned back: a
 * landing ahead, wherever it lies. A runway landing is a return however little it turned: the runway may cross.
 *
 * @param turnedRad Heading turned through in the first turn, positive whichever side.
 */
export function isLandingAhead(outcome: Outcome, turnedRad: number): boolean {
  return outcome !== 'stopped-on-runway' && outcome !== 'overrun' && turnedRad < TURNED_BACK_RAD;
}
