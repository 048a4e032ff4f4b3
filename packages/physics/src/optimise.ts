// How low a return can be made with the bank and stall margin of a technique when the schedule of both is free.
import { checkAttemptInputs } from './checkRequest.js';
import { flyAttempt } from './flyAttempt.js';
import { lowestReturnNearFt, returnWorksAt } from './lowestReturn.js';
import { describeTechnique, type TechniqueWord } from './optimisedWords.js';
import { randomSource } from './random.js';
import type { FlightStart, FlyRequest, TechniqueNumbers } from './request.js';
import { lowestStopFt, type ReturnWindow, returnWindows, type WindowOptions } from './returnWindows.js';
import { firstGuesses, limitsOf, type Schedule, scheduleOf, stepped, techniqueOf, within } from './schedule.js';

export interface OptimiseOptions {
  readonly start?: FlightStart | undefined;
  /** Techniques tried, 10 to 2 000; 160 when absent. */
  readonly rounds?: number | undefined;
  readonly seed?: number | undefined;
  /** Lowest return of the technique as given, where it is known; null: none. */
  readonly lowestReturnFt?: number | null | undefined;
  readonly onProgress?: ((share: number) => void) | undefined;
  /** Asked before each round; true ends the search with the best found so far. */
  readonly shouldStop?: (() => boolean) | undefined;
}

export interface Optimised {
  /** The technique found: the one given, with another schedule of bank and speed. */
  readonly technique: TechniqueNumbers;
  readonly returnWindows: readonly ReturnWindow[];
  readonly lowestReturnFt: number;
  /** Lower by so much than with the technique given (ft); null: that has no return at all. */
  readonly gainFt: number | null;
  /** What is done differently, what each part is worth, and whether it can be taught. */
  readonly words: readonly TechniqueWord[];
  /** Flights that the search took. */
  readonly flights: number;
}

const DEFAULT_ROUNDS = 160;
/** Share of the rounds spent from each first guess; steps shrink to these shares of the first ones by then and at last. */
const FIRST_ROUNDS_SHARE = 0.25;
const MIDDLE_STEP_SHARE = 0.6;
const LAST_STEP_SHARE = 0.2;
/** No technique is sought for a return that does not work from here. */
const HIGHEST_FT = 3_000;
/** A height that the flight from there does not confirm is raised by this much at most (ft). */
const CONFIRMED_WITHIN_FT = 50;
/** The first guesses are scanned at least up to here (ft). */
const LEAST_SCAN_FT = 400;

/**
 * Searches the schedule of bank and speed for the lowest failure height from which a return works: the speeds at the
 * beginning and end of the turn, on the straight leg and at the flare, whether they change at once or with the angle
 * turned and the height lost, whether the bank is kept where the margin leaves no level turn (the lift is held to the
 * margin and the nose drops), and bank and timing of the alignment. Bank never above the technique's, lift never above
 * the largest over the margin squared, the same lags and limits, the aim searched anew for each: what is found is flown
 * by the same modelled pilot.
 *
 * The search begins from two guesses, one whose bank yields and one whose bank is kept, a quarter of the rounds each, and
 * goes on from the better: random steps that shrink (a (1+1) evolution strategy); seeded, so that it gives the same again. It is
 * a bound on what could be done, and no technique to try near the ground.
 *
 * @returns The best technique found, never worse than the one given; null when none brings the aeroplane back from
 *   3 000 ft or below.
 * @throws {RangeError} As `flyAttempt`; or if `rounds` is out of range.
 */
export function optimise(request: FlyRequest, options: OptimiseOptions = {}): Optimised | null {
  checkAttemptInputs(request, options.start);
  const allRounds = options.rounds ?? DEFAULT_ROUNDS;
  if (!(Number.isInteger(allRounds) && allRounds >= 10 && allRounds <= 2_000))
    throw new RangeError(`rounds must be a whole number from 10 to 2000, got ${allRounds}`);
  let tried = 0;
  if (request.technique.turn === 'ahead') return null;
  const { start } = options;
  const random = randomSource(options.seed ?? 1);
  const count = { flights: 0 };
  const windowsOf = (technique: TechniqueNumbers, scan: WindowOptions = {}) => {
    const found = returnWindows({ ...request, technique }, { start, ...scan });
    count.flights += found.flights;
    return found.windows;
  };
  const given = request.technique;
  const givenFt = options.lowestReturnFt === undefined ? lowestStopFt(windowsOf(given)) : options.lowestReturnFt;
  const changed = (schedule: Schedule): FlyRequest => ({ ...request, technique: techniqueOf(given, schedule) });
  const lowestFt = (schedule: Schedule, guessFt: number) => {
    const found = lowestReturnNearFt(changed(schedule), guessFt, start, count);
    return found === null || found > HIGHEST_FT ? Number.POSITIVE_INFINITY : found;
  };
  const limits = limitsOf(request);
  const asGiven = scheduleOf(given);
  /** Random steps from a schedule, those of them kept that return from lower. */
  const climb = (from: Found, rounds: number, shares: Shares): Found => {
    let best = from;
    for (let round = 0; round < rounds && options.shouldStop?.() !== true; round++) {
      const share = shares.first + (shares.last - shares.first) * (round / rounds);
      const trial = within(stepped(best.schedule, share, random), limits);
      const guessFt = Number.isFinite(best.ft) ? best.ft - 1 : HIGHEST_FT;
      if (guessFt >= 50 && returnWorksAt(changed(trial), guessFt, start, count))
        best = { schedule: trial, ft: lowestFt(trial, guessFt) };
      options.onProgress?.(++tried / allRounds);
    }
    return best;
  };
  // Scanned from below, not followed from the given height: a window may close before it gets there.
  const scan = { toFt: Math.max(givenFt ?? HIGHEST_FT, LEAST_SCAN_FT) };
  const firsts = firstGuesses(request).map((guess): Found => {
    const schedule = within(guess, limits);
    const ft = lowestStopFt(windowsOf(changed(schedule).technique, scan)) ?? Number.POSITIVE_INFINITY;
    return { schedule, ft };
  });
  const firstRounds = Math.floor(FIRST_ROUNDS_SHARE * allRounds);
  const begun = firsts.map((first) => climb(first, firstRounds, { first: 1, last: MIDDLE_STEP_SHARE }));
  const leading = lowest([{ schedule: asGiven, ft: givenFt ?? Number.POSITIVE_INFINITY }, ...begun]);
  const found = climb(leading, allRounds - firstRounds * firsts.length, {
    first: MIDDLE_STEP_SHARE,
    last: LAST_STEP_SHARE,
  });
  // The flight that would be flown from there has the last word: its own search of the aim starts from nothing.
  const flies = (heightFt: number) =>
    flyAttempt(
      { ...changed(found.schedule), failure: { ...request.failure, heightFt } },
      { start: start && { ...start, heightFt } },
    ).outcome === 'stopped-on-runway';
  let flownFt = found.ft;
  while (flownFt <= found.ft + CONFIRMED_WITHIN_FT && Number.isFinite(flownFt) && !flies(flownFt)) flownFt++;
  const holds = flownFt <= Math.min(found.ft + CONFIRMED_WITHIN_FT, givenFt ?? HIGHEST_FT);
  const best = holds ? found.schedule : asGiven;
  const bestFt = holds ? flownFt : (givenFt ?? Number.POSITIVE_INFINITY);
  if (!Number.isFinite(bestFt)) return null;
  const without = (part: Partial<Schedule>) => lowestFt({ ...best, ...part }, bestFt) - bestFt;
  const technique = changed(best).technique;
  const words = describeTechnique(request, asGiven, best, without);
  const near = windowsOf(technique, { fromFt: Math.max(bestFt - 50, 50), toFt: Math.min(bestFt + 1_500, 6_000) });
  return {
    technique,
    returnWindows: near,
    lowestReturnFt: bestFt,
    gainFt: givenFt === null ? null : givenFt - bestFt,
    words,
    flights: count.flights,
  };
}

/** A schedule and the lowest height it returns from (ft); infinite: none. */
interface Found {
  readonly schedule: Schedule;
  readonly ft: number;
}

/** Size of the steps in the first round and after the last, as a share of the first ones of all. */
interface Shares {
  readonly first: number;
  readonly last: number;
}

function lowest(all: readonly [Found, ...Found[]]): Found {
  return all.reduce((best, one) => (one.ft < best.ft ? one : best));
}
