// The lowest height from which a return is made, everything else of the failure moment kept.

import { checkAttemptInputs } from './checkRequest.js';
import type { FlyOptions } from './flyAttempt.js';
import { trialsOf } from './lowestReturn.js';
import type { FlyRequest } from './request.js';
import { openingEdge } from './returnEdge.js';
import { searchesOf } from './returnSearch.js';
import { buildScenes } from './scene.js';
import { H } from './state.js';
import { M_PER_FT } from './units.js';

/** Heights tried first (ft). */
const SCAN_STEP_FT = 100;
const LOWEST_FT = 50;
/** No answer is sought above this (ft). */
export const HIGHEST_RETURN_FT = 5_000;

/**
 * Lowest failure height (ft above the runway, to 1 ft) from which this technique stops on the runway, when only the
 * height of the failure moment changes: same place over the ground, same speed, track, bank. Null when there is none
 * up to 5 000 ft, or when the technique lands ahead. It works from there and, tried every 10 ft, from 50 ft above.
 *
 * The failure moment is the modelled climb at `failure.heightFt`, or `options.start`.
 * @throws {RangeError} As `flyAttempt`.
 */
export function lowestReturnFt(request: FlyRequest, options: Pick<FlyOptions, 'start'> = {}): number | null {
  checkAttemptInputs(request, options.start);
  if (request.technique.turn === 'ahead') return null;
  const scenes = buildScenes(request, options.start);
  const searches = searchesOf(scenes);
  const trials = trialsOf(
    scenes,
    searches,
    ({ start }, heightFt) => {
      start[H] = heightFt * M_PER_FT;
    },
    HIGHEST_RETURN_FT,
  );
  let failsFt: number | null = null;
  for (let heightFt = LOWEST_FT; heightFt <= HIGHEST_RETURN_FT; heightFt += SCAN_STEP_FT) {
    const made = trials.probe(heightFt);
    if (made.works) return failsFt === null ? heightFt : openingEdge(made, failsFt, trials);
    failsFt = heightFt;
  }
  return null;
}
