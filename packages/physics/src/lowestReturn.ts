// The lowest failure height of the modelled climb from which a return works, found from a height where it nearly does.

import type { Judged } from './aim.js';
import { highestClimbFt } from './climbCeiling.js';
import type { FlightStart, FlyRequest } from './request.js';
import { firstAbove, type HeightTrials, openingEdge, type ReturnProbe, STEP_GROWTH } from './returnEdge.js';
import { isStop, type ReturnSearch, searchesOf } from './returnSearch.js';
import { buildScenes, moveFailure, type Scene } from './scene.js';

const FIRST_STEP_FT = 32;
const SCAN_STEP_FT = 50;
const LOWEST_FT = 50;
const HIGHEST_FT = 6_000;

/** Flights flown so far, where someone counts them. */
export interface FlightCount {
  flights: number;
}

function add(count: FlightCount | undefined, searches: readonly ReturnSearch[]): void {
  if (count !== undefined) for (const { flights } of searches) count.flights += flights;
}

/** True if a return works from one failure height. @throws {RangeError} As {@link lowestReturnNearFt}. */
export function returnWorksAt(
  request: FlyRequest,
  heightFt: number,
  start?: FlightStart,
  count?: FlightCount,
): boolean {
  if (request.technique.turn === 'ahead') return false;
  const scenes = buildScenes({ ...request, failure: { ...request.failure, heightFt } }, start);
  for (const scene of scenes) moveFailure(scene, heightFt);
  const searches = searchesOf(scenes);
  const works = searches.some((search) => isStop(search.find()));
  add(count, searches);
  return works;
}

/**
 * The opening edge (ft, to 1 ft) of the window of returns that stop on the runway, followed from a guess: down while it
 * works, up while it does not, in growing steps, and below the guess where there is none above; then by bisection;
 * confirmed by the attempt flown from there. Null when it never works up to 6 000 ft or to where the modelled climb ends,
 * or when the technique lands ahead. Where a window has gaps, it is the edge next to the guess; an island, with a height
 * that fails within 50 ft above its edge, is passed over as by `lowestStopFt`.
 *
 * @param guessFt Where the edge is thought to be, 50 to 6 000 ft.
 * @param count The flights it takes are added to it.
 * @throws {RangeError} As `flyAttempt` for a request that cannot be flown at a height tried.
 */
export function lowestReturnNearFt(
  request: FlyRequest,
  guessFt: number,
  start?: FlightStart,
  count?: FlightCount,
): number | null {
  if (request.technique.turn === 'ahead') return null;
  const scenes = buildScenes({ ...request, failure: { ...request.failure, heightFt: guessFt } }, start);
  const searches = searchesOf(scenes);
  const topFt = start === undefined ? highestClimbFt(request, HIGHEST_FT) : HIGHEST_FT;
  const found = edgeNear(scenes, searches, guessFt, topFt);
  add(count, searches);
  return found;
}

function edgeNear(
  scenes: readonly Scene[],
  searches: readonly ReturnSearch[],
  guessFt: number,
  topFt: number,
): number | null {
  const trials = trialsOf(scenes, searches, (scene, heightFt) => moveFailure(scene, heightFt), topFt);
  const guess = trials.probe(Math.round(guessFt));
  if (guess.works) return followedDown(guess, trials);
  const above = firstAbove(guess.heightFt, FIRST_STEP_FT, trials);
  if (above !== null) return openingEdge(above.works, above.failsFt, trials);
  // The window may have closed below the guess.
  for (let heightFt = guess.heightFt - SCAN_STEP_FT; heightFt >= LOWEST_FT; heightFt -= SCAN_STEP_FT) {
    const below = trials.probe(heightFt);
    if (below.works) return followedDown(below, trials);
  }
  return null;
}

function followedDown(works: ReturnProbe, trials: HeightTrials): number | null {
  let good = works;
  for (let step = FIRST_STEP_FT; good.heightFt > LOWEST_FT; step *= STEP_GROWTH) {
    const below = trials.probe(Math.max(Math.round(good.heightFt - step), LOWEST_FT));
    if (!below.works) return openingEdge(good, below.heightFt, trials);
    good = below;
  }
  return good.heightFt;
}

/** Heights tried by searches, after the failure of each scene was moved there. */
export function trialsOf(
  scenes: readonly Scene[],
  searches: readonly ReturnSearch[],
  move: (scene: Scene, heightFt: number) => void,
  highestFt: number,
): HeightTrials {
  const trial = (find: (search: ReturnSearch) => Judged) => (heightFt: number) => {
    for (const scene of scenes) move(scene, heightFt);
    return { heightFt, works: searches.some((search) => isStop(find(search))) };
  };
  return { probe: trial((search) => search.find()), fly: trial((search) => search.asFlown()), highestFt };
}
