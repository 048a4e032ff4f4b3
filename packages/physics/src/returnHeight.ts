// The lowest height from which a return is made, everything else of the failure moment kept.

import { flyAim } from './aim.js';
import { STEP_S } from './attempt.js';
import { checkAttemptInputs } from './checkRequest.js';
import { chooseReturn, type FlyOptions } from './flyAttempt.js';
import type { FlyRequest } from './request.js';
import { isStop, type ReturnSearch, searchesOf } from './returnSearch.js';
import { buildScenes, type Scene } from './scene.js';
import { H } from './state.js';
import { M_PER_FT } from './units.js';

/** Heights tried first, and how closely the edge between them is found (ft). */
const SCAN_STEP_FT = 100;
const LOWEST_FT = 50;
const PRECISION_FT = 2;
const CONFIRMATIONS = 10;
/** No answer is sought above this (ft). */
export const HIGHEST_RETURN_FT = 5_000;

/**
 * Lowest failure height (ft above the runway, to 2 ft) from which this technique stops on the runway, when only the
 * height of the failure moment changes: same place over the ground, same speed, track, bank. Null when there is none
 * up to 5 000 ft, or when the technique lands ahead.
 *
 * The failure moment is the modelled climb at `failure.heightFt`, or `options.start`.
 * @throws {RangeError} As `flyAttempt`.
 */
export function lowestReturnFt(request: FlyRequest, options: Pick<FlyOptions, 'start'> = {}): number | null {
  checkAttemptInputs(request, options.start);
  if (request.technique.turn === 'ahead') return null;
  const scenes = buildScenes(request, options.start);
  const searches = searchesOf(scenes);
  let made = LOWEST_FT;
  while (!isMade(scenes, searches, made)) {
    made += SCAN_STEP_FT;
    if (made > HIGHEST_RETURN_FT) return null;
  }
  if (made === LOWEST_FT) return made;
  let missed = made - SCAN_STEP_FT;
  while (made - missed > PRECISION_FT) {
    const middle = (made + missed) / 2;
    if (isMade(scenes, searches, middle)) made = middle;
    else missed = middle;
  }
  // The flight that would be flown from there has the last word; it differs by a few feet at most.
  for (let i = 0; i < CONFIRMATIONS && !isFlown(scenes, made); i++) made += PRECISION_FT;
  return made;
}

function isMade(scenes: readonly Scene[], searches: readonly ReturnSearch[], heightFt: number): boolean {
  for (const { start } of scenes) start[H] = heightFt * M_PER_FT;
  return searches.some((search) => isStop(search.find()));
}

function isFlown(scenes: readonly Scene[], heightFt: number): boolean {
  for (const { start } of scenes) start[H] = heightFt * M_PER_FT;
  const { scene, aim } = chooseReturn(scenes);
  return flyAim(scene, aim, STEP_S).contact.outcome === 'stopped-on-runway';
}
