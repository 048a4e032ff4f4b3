// Spread of outcomes: the plan flown by many drawn pilots on many drawn days, and how often it ends well at each height.
import { costOf, flyAim, type Judged } from './aim.js';
import { STEP_S } from './attempt.js';
import { checkAttemptInputs } from './checkRequest.js';
import { checkSpreadOptions, type SpreadOptions } from './checkSpread.js';
import { climbsTo } from './climbCeiling.js';
import { chooseReturn } from './flyAttempt.js';
import type { FlightStart, FlyRequest, Outcome } from './request.js';
import { isStop, mayReach } from './returnSearch.js';
import { buildScenes, moveFailure, type Scene } from './scene.js';
import { DEFAULT_ERRORS, drawnRequest, drawSpread, type SpreadErrors } from './spreadDraw.js';
import type { Aim } from './steering.js';
import { type Turbulence, turbulence } from './turbulence.js';
import { MPS_PER_KT } from './units.js';
import { type Share, wilson } from './wilson.js';

export const OUTCOMES: readonly Outcome[] = [
  'stopped-on-runway',
  'overrun',
  'on-airfield',
  'off-airfield',
  'wing-low-contact',
  'stall',
];

/**
 * Where the pilot who sees the planned aim not working out goes instead (m from it): nearer or farther along the
 * centreline. Own choice: corrections a pilot can see, not a search.
 */
const CORRECTIONS_M = [-120, 120, -300, 300, -600, 600] as const;

/** Step in gusts (s): up to four of it on a straight leg, still short against gusts that last a second or more. */
const GUST_STEP_S = 0.05;

/** Draws counted so far: a few numbers a height, however many draws. Add those of several workers with {@link addCounts}. */
export interface SpreadCounts {
  readonly heightsFt: readonly number[];
  draws: number;
  /** Flights flown. */
  flights: number;
  /** For each height, how many draws ended in each of {@link OUTCOMES}. */
  readonly byHeight: readonly number[][];
}

/** Best runway and aim at a height as planned. */
export interface PlannedReturn {
  /** Which of the scenes of `buildScenes`. */
  readonly sceneIndex: number;
  /** Null: ahead. */
  readonly aim: Aim | null;
}

/**
 * Draws to be counted, all that is needed for it: checked, with the aims searched. Plain data that can be sent to a
 * worker; the draws can be divided at will.
 */
export interface SpreadWork {
  readonly request: FlyRequest;
  readonly start: FlightStart | undefined;
  readonly firstDraw: number;
  readonly draws: number;
  readonly seed: number;
  readonly heightsFt: readonly number[];
  readonly errors: SpreadErrors;
  /** One for each height. */
  readonly planned: readonly PlannedReturn[];
}

export interface SpreadAtHeight {
  readonly heightFt: number;
  readonly outcomes: { readonly [outcome in Outcome]: number };
  /** Stopped on the runway, with its Wilson interval (95 %). */
  readonly endsWell: Share;
}

export interface Spread {
  readonly draws: number;
  readonly seed: number;
  readonly errors: SpreadErrors;
  readonly heights: readonly SpreadAtHeight[];
  /** Heights at which so many end well; see {@link heightForShare}. */
  readonly heightFor95: HeightForShare;
  readonly heightFor99: HeightForShare;
  readonly flights: number;
}

/** Lowest height from which a share ends well there and at every height asked for above it up to the first that fails. */
export interface HeightForShare {
  readonly share: number;
  /** By the shares themselves, interpolated between heights (ft); null: at none of the heights. */
  readonly heightFt: number | null;
  /** Lowest of the heights at which the low end of the interval reaches the share too; null: at none. */
  readonly surelyFt: number | null;
}

/**
 * Flies a plan many times with errors drawn for pilot, wind, glide and propeller, at each of a list of failure heights.
 *
 * Each height has a planned runway, side and aim, the best for the request as it stands. A drawn pilot flies to it; where that
 * does not stop on the runway, the nearby aims of a visible correction are tried, and the best of these flights counts.
 * The same draws are flown at every height, so that differences between heights are not chance. A drawn pilot keeps the
 * stall margin of the technique: pulling too hard is not among the errors.
 *
 * @returns Counts and shares at each height; the same for a seed on every machine and however the draws were divided.
 * @throws {RangeError} As `flyAttempt`; or if an option is out of range.
 */
export function spread(request: FlyRequest, options: SpreadOptions = {}): Spread {
  return spreadOf(countSpread(request, options), options);
}

/**
 * The counting half of {@link spread}: draws `firstDraw` to `firstDraw + draws - 1` of the seed. Stops early, with the
 * draws done so far, when `shouldStop` says so.
 */
export function countSpread(request: FlyRequest, options: SpreadOptions = {}): SpreadCounts {
  return countDraws(spreadWork(request, options), options);
}

/** Checks everything and searches the planned aims, once for all draws. @throws {RangeError} As {@link spread}. */
export function spreadWork(request: FlyRequest, options: SpreadOptions = {}): SpreadWork {
  checkAttemptInputs(request, options.start);
  const { draws, seed, firstDraw, heightsFt, errors } = checkSpreadOptions(options, request);
  const planned = plannedReturns(request, heightsFt, options);
  return { request, start: options.start, firstDraw, draws, seed, heightsFt, errors, planned };
}

/** Flies and counts the draws of a piece of work; stops early, with those done so far, when `shouldStop` says so. */
export function countDraws(
  work: SpreadWork,
  options: Pick<SpreadOptions, 'onProgress' | 'shouldStop'> = {},
): SpreadCounts {
  const { request, start, firstDraw, draws, seed, heightsFt, errors, planned } = work;
  const counts = noCounts(heightsFt);
  const highestFt = Math.max(...heightsFt);
  for (let i = 0; i < draws && options.shouldStop?.() !== true; i++) {
    const draw = drawSpread(request, errors, seed, firstDraw + i);
    const drawn = drawnRequest(request, draw);
    /** The same gusts for every flight of a draw: new ones would be another day. */
    const gusts = () =>
      errors.turbulenceAt20FtKt === 0 ? null : turbulence(errors.turbulenceAt20FtKt * MPS_PER_KT, draw.gustSeed);
    const climbed = start !== undefined || climbsTo(drawn, highestFt) ? drawn : atPlannedClimb(drawn, request);
    const first = { ...climbed, failure: { ...climbed.failure, heightFt: heightsFt[0] as number } };
    const scenes = buildScenes(first, start);
    heightsFt.forEach((heightFt, index) => {
      const { sceneIndex, aim } = planned[index] as PlannedReturn;
      const scene = scenes[sceneIndex] as Scene;
      moveFailure(scene, heightFt);
      const { judged, flights } = flyCorrected(scene, aim, gusts);
      counts.flights += flights;
      const row = counts.byHeight[index] as number[];
      const at = OUTCOMES.indexOf(judged.contact.outcome);
      row[at] = (row[at] as number) + 1;
    });
    counts.draws++;
    options.onProgress?.(counts.draws / draws);
  }
  return counts;
}

/** A drawn climb speed at which the aeroplane never gets so high is no error of a pilot who is there. */
function atPlannedClimb(drawn: FlyRequest, { technique }: FlyRequest): FlyRequest {
  return { ...drawn, technique: { ...drawn.technique, climbKcas: technique.climbKcas } };
}

/** Counts of no draw at all. */
export function noCounts(heightsFt: readonly number[]): SpreadCounts {
  return { heightsFt, draws: 0, flights: 0, byHeight: heightsFt.map(() => OUTCOMES.map(() => 0)) };
}

/** The counts of two shares of the work together. @throws {RangeError} If they are of different heights. */
export function addCounts(a: SpreadCounts, b: SpreadCounts): SpreadCounts {
  if (a.heightsFt.join() !== b.heightsFt.join())
    throw new RangeError(`heightsFt must be the same for counts that are added, got ${a.heightsFt} and ${b.heightsFt}`);
  return {
    heightsFt: a.heightsFt,
    draws: a.draws + b.draws,
    flights: a.flights + b.flights,
    byHeight: a.byHeight.map((row, i) => row.map((count, k) => count + (b.byHeight[i]?.[k] ?? 0))),
  };
}

/** Shares, intervals and heights from counts. @throws {RangeError} If nothing was counted. */
export function spreadOf(counts: SpreadCounts, options: Pick<SpreadOptions, 'seed' | 'errors'> = {}): Spread {
  if (counts.draws < 1) throw new RangeError(`draws must be at least 1, got ${counts.draws}`);
  const heights = counts.heightsFt.map((heightFt, index) => {
    const row = counts.byHeight[index] as number[];
    const outcomes = Object.fromEntries(OUTCOMES.map((outcome, k) => [outcome, row[k]])) as SpreadAtHeight['outcomes'];
    return { heightFt, outcomes, endsWell: wilson(outcomes['stopped-on-runway'], counts.draws) };
  });
  return {
    draws: counts.draws,
    seed: options.seed ?? 1,
    errors: { ...DEFAULT_ERRORS, ...options.errors },
    heights,
    heightFor95: heightForShare(heights, 0.95),
    heightFor99: heightForShare(heights, 0.99),
    flights: counts.flights,
  };
}

/**
 * Lowest height at which a share of the flights ends well: the first of the heights, in rising order, at which it does,
 * taken back linearly to where the share was crossed.
 */
export function heightForShare(heights: readonly SpreadAtHeight[], share: number): HeightForShare {
  const index = heights.findIndex(({ endsWell }) => endsWell.share >= share);
  const at = heights[index];
  const below = heights[index - 1];
  const surely = heights.find(({ endsWell }) => endsWell.low >= share);
  const crossed =
    at === undefined || below === undefined
      ? (at?.heightFt ?? null)
      : at.heightFt -
        ((at.heightFt - below.heightFt) * (at.endsWell.share - share)) / (at.endsWell.share - below.endsWell.share);
  return { share, heightFt: crossed, surelyFt: surely?.heightFt ?? null };
}

/** The planned return from each height. */
function plannedReturns(request: FlyRequest, heightsFt: readonly number[], options: SpreadOptions): PlannedReturn[] {
  const scenes = buildScenes(
    { ...request, failure: { ...request.failure, heightFt: heightsFt[0] as number } },
    options.start,
  );
  return heightsFt.map((heightFt) => {
    for (const scene of scenes) moveFailure(scene, heightFt);
    const { scene, aim } = chooseReturn(scenes);
    return { sceneIndex: scenes.indexOf(scene), aim };
  });
}

/** The flight to the planned aim, or the best of the corrections of it when that does not stop on the runway. */
function flyCorrected(
  scene: Scene,
  aim: Aim | null,
  gusts: () => Turbulence | null,
): { judged: Judged; flights: number } {
  const fly = (to: Aim | null) => {
    const air = gusts();
    return flyAim(scene, to, air === null ? STEP_S : GUST_STEP_S, null, air);
  };
  let judged = fly(aim);
  let flights = 1;
  if (aim === null || !mayReach(scene)) return { judged, flights };
  for (const offM of CORRECTIONS_M) {
    if (isStop(judged)) break;
    const other = fly({ side: aim.side, aimM: aim.aimM + offM });
    flights++;
    if (costOf(other) < costOf(judged)) judged = other;
  }
  return { judged, flights };
}
