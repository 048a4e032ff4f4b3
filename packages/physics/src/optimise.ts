// How low a return can be made with the bank and stall margin of a technique when its speeds and its alignment are free.
import { checkAttemptInputs } from './checkRequest.js';
import { lowestReturnNearFt, returnWorksAt } from './lowestReturn.js';
import { describeTechnique, type TechniqueWord } from './optimisedWords.js';
import { randomSource } from './random.js';
import type { FlightStart, FlyRequest, TechniqueNumbers } from './request.js';
import { lowestStopFt, type ReturnWindow, returnWindows } from './returnWindows.js';
import { clamp } from './units.js';

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
  /** The technique found: the one given, with other speeds and another alignment. */
  readonly technique: TechniqueNumbers;
  readonly returnWindows: readonly ReturnWindow[];
  readonly lowestReturnFt: number;
  /** Lower by so much than with the technique given (ft); null: that has no return at all. */
  readonly gainFt: number | null;
  /** What is done differently, what each part is worth, and whether it can be taught. */
  readonly words: readonly TechniqueWord[];
}

/** The numbers that are free, and how far a first step changes each. */
const FREE = [
  { name: 'targetKcas', stepSd: 2.5 },
  { name: 'straightKcas', stepSd: 4 },
  { name: 'alignKcas', stepSd: 3 },
  { name: 'alignBankDeg', stepSd: 5 },
] as const;
type Free = { readonly [name in (typeof FREE)[number]['name']]: number };

const DEFAULT_ROUNDS = 160;
/** Steps shrink to this share of the first ones by the last round. */
const LAST_STEP_SHARE = 0.2;
const LEAST_ALIGN_BANK_DEG = 5;
/** No technique is sought for a return that does not work from here. */
const HIGHEST_FT = 3_000;

/**
 * Searches turn speed, speed on the straight leg, speed from the alignment on and bank of the alignment for the lowest
 * failure height from which a return works. Bank never above the technique's, stall margin never below it, the same lags
 * and limits, the aim searched anew for each: what is found is flown by the same modelled pilot.
 *
 * The search begins with the slowest speed that has the technique's bank at its margin and a slow shallow alignment,
 * then takes random steps that shrink (a (1+1) evolution strategy); seeded, so that it gives the same again. It is a
 * bound on what could be done, and no technique to try near the ground.
 *
 * @returns The best technique found; null when none brings the aeroplane back from 3 000 ft or below.
 * @throws {RangeError} As `flyAttempt`; or if `rounds` is out of range.
 */
export function optimise(request: FlyRequest, options: OptimiseOptions = {}): Optimised | null {
  checkAttemptInputs(request, options.start);
  const rounds = options.rounds ?? DEFAULT_ROUNDS;
  if (!(Number.isInteger(rounds) && rounds >= 10 && rounds <= 2_000))
    throw new RangeError(`rounds must be a whole number from 10 to 2000, got ${rounds}`);
  if (request.technique.turn === 'ahead') return null;
  const { start } = options;
  const random = randomSource(options.seed ?? 1);
  const givenFt =
    options.lowestReturnFt === undefined
      ? lowestStopFt(returnWindows(request, { start }).windows)
      : options.lowestReturnFt;
  const given = request.technique;
  const changed = (free: Free): FlyRequest => ({ ...request, technique: { ...given, ...free } });
  const lowestFt = (free: Free, guessFt: number) => {
    const found = lowestReturnNearFt(changed(free), guessFt, start);
    return found === null || found > HIGHEST_FT ? Number.POSITIVE_INFINITY : found;
  };
  const limits = limitsOf(request);
  const asGiven: Free = {
    targetKcas: given.targetKcas,
    straightKcas: given.straightKcas ?? given.targetKcas,
    alignKcas: given.alignKcas ?? given.targetKcas,
    alignBankDeg: given.alignBankDeg ?? Math.min(0.6 * given.bankDeg, 25),
  };
  let best = asGiven;
  let bestFt = givenFt ?? Number.POSITIVE_INFINITY;
  const first = within(firstGuess(request), limits);
  const firstFt = lowestFt(first, Number.isFinite(bestFt) ? bestFt : 800);
  if (firstFt < bestFt) {
    best = first;
    bestFt = firstFt;
  }
  for (let round = 0; round < rounds && options.shouldStop?.() !== true; round++) {
    const share = 1 - (1 - LAST_STEP_SHARE) * (round / rounds);
    const trial = within(
      Object.fromEntries(FREE.map(({ name, stepSd }) => [name, best[name] + share * stepSd * random.normal()])) as Free,
      limits,
    );
    const guessFt = Number.isFinite(bestFt) ? bestFt - 1 : HIGHEST_FT;
    if (guessFt >= 50 && returnWorksAt(changed(trial), guessFt, start)) {
      best = trial;
      bestFt = lowestFt(trial, guessFt);
    }
    options.onProgress?.((round + 1) / rounds);
  }
  if (!Number.isFinite(bestFt)) return null;
  const without = (name: keyof Free) => lowestFt({ ...best, [name]: asGiven[name] }, bestFt) - bestFt;
  return {
    technique: changed(best).technique,
    returnWindows: returnWindows(changed(best), { start, fromFt: Math.max(bestFt - 50, 50), toFt: bestFt + 1_500 })
      .windows,
    lowestReturnFt: bestFt,
    gainFt: givenFt === null ? null : givenFt - bestFt,
    words: describeTechnique(request, asGiven, best, without),
  };
}

/** Slowest turn with the bank at the margin; a leg near least sink over the margin; a slow and shallow alignment. */
function firstGuess({ aircraft, technique }: FlyRequest): Free {
  const stall = aircraft.stallCleanKcas * Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  const { stallMargin, bankDeg } = technique;
  return {
    targetKcas: (stallMargin * stall) / Math.sqrt(Math.cos((bankDeg * Math.PI) / 180)),
    straightKcas: 1.1 * stallMargin * stall,
    alignKcas: 1.04 * stallMargin * stall,
    alignBankDeg: Math.min(18, bankDeg),
  };
}

function limitsOf({ aircraft, technique }: FlyRequest) {
  const stall = aircraft.stallCleanKcas * Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  return { leastKcas: technique.stallMargin * stall, mostKcas: Math.min(2 * stall, 200), bankDeg: technique.bankDeg };
}

function within(free: Free, { leastKcas, mostKcas, bankDeg }: ReturnType<typeof limitsOf>): Free {
  return {
    targetKcas: clamp(free.targetKcas, leastKcas, mostKcas),
    straightKcas: clamp(free.straightKcas, leastKcas, mostKcas),
    alignKcas: clamp(free.alignKcas, leastKcas, mostKcas),
    alignBankDeg: clamp(free.alignBankDeg, Math.min(LEAST_ALIGN_BANK_DEG, bankDeg), bankDeg),
  };
}
