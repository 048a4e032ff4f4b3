// The lowest failure height of the modelled climb from which a return works, found from a height where it nearly does.
import { highestClimbFt } from './climbCeiling.js';
import type { FlightStart, FlyRequest } from './request.js';
import { isStop, type ReturnSearch, searchesOf } from './returnSearch.js';
import { buildScenes, moveFailure, type Scene } from './scene.js';

const FIRST_STEP_FT = 32;
const LOWEST_FT = 50;
const HIGHEST_FT = 6_000;
const PRECISION_FT = 1;

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
 * works and up while it does not, in growing steps, then by bisection. Null when it never works up to 6 000 ft or to where the modelled climb ends, or when
 * the technique lands ahead. Where a window has gaps, it is the edge next to the guess.
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
  const works = (heightFt: number) => {
    for (const scene of scenes) moveFailure(scene, heightFt);
    return searches.some((search) => isStop(search.find()));
  };
  let good = Math.round(guessFt);
  let bad: number;
  let step = FIRST_STEP_FT;
  if (works(good)) {
    bad = good;
    do {
      good = bad;
      if (good === LOWEST_FT) return good;
      bad = Math.max(good - step, LOWEST_FT);
      step *= 1.5;
    } while (works(bad));
  } else {
    do {
      bad = good;
      if (bad >= topFt) return null;
      good = Math.min(bad + step, topFt);
      step *= 1.5;
    } while (!works(good));
  }
  while (good - bad > PRECISION_FT) {
    const middle = Math.round((good + bad) / 2);
    if (works(middle)) good = middle;
    else bad = middle;
  }
  return good;
}
