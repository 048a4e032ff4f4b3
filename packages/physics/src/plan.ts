// The whole plan: everything the planner answers about one departure, in one go.
import { type AheadReach, aheadReach } from './aheadReach.js';
import { type BestTurn, bestTurn } from './bestTurn.js';
import { checkAttemptInputs } from './checkRequest.js';
import type { SpreadOptions } from './checkSpread.js';
import { highestClimbFt } from './climbCeiling.js';
import { type FieldReached, fieldsReached, type LandableField } from './fieldsReached.js';
import { type FlyOptions, flyAttempt } from './flyAttempt.js';
import { type Footprint, footprint } from './footprint.js';
import { type HeightLost, heightLostByTurn } from './heightLostByTurn.js';
import { type Optimised, optimise } from './optimise.js';
import type { FlightStart, FlyRequest, FlyResult } from './request.js';
import {
  lowestStopFt,
  type ReturnWindow,
  type ReturnWindows,
  returnWindows,
  SCAN_FROM_FT,
  SCAN_TO_FT,
  type WindowOptions,
} from './returnWindows.js';
import { type Sensitivity, sensitivity } from './sensitivity.js';
import { type Spread, spread } from './spread.js';

/** Heights the spread is told for when none are asked: from below the lowest return to well above it. */
const SPREAD_ABOVE_FT = [-100, 0, 100, 200, 300, 400, 600, 800] as const;
const LOWEST_SPREAD_FT = 50;
const HIGHEST_SPREAD_FT = 6_000;

export interface PlanOptions {
  readonly start?: FlightStart | undefined;
  /**
   * Heights scanned for windows (ft above the runway); 100 to 3 000 by 50 when absent, and no higher then than the
   * modelled climb goes.
   */
  readonly fromFt?: number | undefined;
  readonly toFt?: number | undefined;
  readonly stepFt?: number | undefined;
  /** Spread: flights at each height, seed, heights and errors; 200 flights, seed 1 when absent; null: no spread. */
  readonly spread?: Pick<SpreadOptions, 'draws' | 'seed' | 'heightsFt' | 'errors'> | null | undefined;
  /** Also search for the technique that returns from lowest, in so many rounds; not done when absent. */
  readonly optimiseRounds?: number | undefined;
  /** Fields around the airfield that could be landed on. */
  readonly fields?: readonly LandableField[] | undefined;
  /** Called now and then with what is being worked on and the share of all done, 0 to 1. */
  readonly onProgress?: ((part: PlanPart, share: number) => void) | undefined;
}

export type PlanPart = 'windows' | 'turns' | 'sensitivity' | 'spread' | 'footprint' | 'optimise';

export interface Plan {
  /** Side to turn to: of the technique where it names one, else the better one. */
  readonly bestTurn: 'left' | 'right';
  /** Both sides compared. */
  readonly turns: BestTurn;
  readonly returnWindows: readonly ReturnWindow[];
  /**
   * Lowest failure height from which a return stops on the runway (ft); null: none within the scan, or islands
   * alone. Equal to `scan.fromFt` it is no edge: from lower down was not asked, and the sensitivities tell no cost of it.
   */
  readonly lowestReturnFt: number | null;
  /** What was scanned, and with how many flights, those of both sides counted. */
  readonly scan: { readonly fromFt: number; readonly toFt: number; readonly stepFt: number; readonly flights: number };
  /** Empty for a technique that lands ahead, as are the sensitivities: it has no turn. */
  readonly heightLostByTurn: readonly HeightLost[];
  readonly sensitivity: readonly Sensitivity[];
  /** Null when none was asked for, and for a technique that lands ahead. */
  readonly spread: Spread | null;
  readonly footprint: Footprint;
  /** The fields given, held against the footprint. */
  readonly fields: readonly FieldReached[];
  /** Null: not asked for, or nothing found. */
  readonly optimised: Optimised | null;
  /** What a landing ahead has in front of it; null from a recorded state. */
  readonly ahead: AheadReach | null;
  /** The flight from the failure height of the request. */
  readonly flight: FlyResult;
}

/**
 * Answers the planner's questions for one request, at the failure height of the request where a question needs one.
 *
 * `bestTurn` is a side even for a technique that lands ahead: what it would be. Windows, sensitivities of the lowest
 * return and spread are those of the technique as given, the side it names kept.
 *
 * @throws {RangeError} As `flyAttempt`, `returnWindows`, `spread` and `fieldsReached`.
 */
export function plan(request: FlyRequest, options: PlanOptions = {}): Plan {
  checkAttemptInputs(request, options.start);
  const { start, onProgress } = options;
  const flying: Pick<FlyOptions, 'start'> = { start };
  const flight = flyAttempt(request, flying);
  const reach = footprint(request, flying);
  const fields = fieldsReached(reach, options.fields ?? []);
  onProgress?.('footprint', 0.02);
  const scan = {
    start,
    fromFt: options.fromFt,
    toFt: options.toFt ?? climbedFt(request, start),
    stepFt: options.stepFt,
  };
  const open: FlyRequest = { ...request, technique: { ...request.technique, turn: 'best' } };
  const bothSides = returnWindows(open, {
    ...scan,
    onProgress: (share) => onProgress?.('windows', 0.02 + 0.28 * share),
  });
  const windows = windowsOf(request, bothSides, scan);
  const turns = bestTurn(request, { start, windows: bothSides });
  onProgress?.('turns', 0.35);
  const { turn } = request.technique;
  const side = turn === 'left' || turn === 'right' ? turn : turns.turn;
  const lowestReturnFt = lowestStopFt(windows.windows);
  const turnsBack = turn !== 'ahead';
  const sensitivities = turnsBack
    ? sensitivity(request, {
        start,
        // A return that works where the scan begins has its edge lower down: no difference to it is known.
        lowestReturnFt: lowestReturnFt === windows.scannedFromFt ? null : lowestReturnFt,
        onProgress: (share) => onProgress?.('sensitivity', 0.35 + 0.15 * share),
      })
    : [];
  const optimised =
    options.optimiseRounds === undefined
      ? null
      : optimise(request, {
          start,
          lowestReturnFt,
          rounds: options.optimiseRounds,
          onProgress: (share) => onProgress?.('optimise', 0.5 + 0.15 * share),
        });
  const outcomes =
    options.spread === null || !turnsBack
      ? null
      : spread(request, {
          heightsFt: spreadHeightsFt(request, lowestReturnFt, start),
          ...options.spread,
          start,
          onProgress: (share) => onProgress?.('spread', 0.65 + 0.35 * share),
        });
  return {
    bestTurn: side,
    turns,
    returnWindows: windows.windows,
    lowestReturnFt,
    scan: {
      fromFt: windows.scannedFromFt,
      toFt: windows.scannedToFt,
      stepFt: windows.scanStepFt,
      flights: windows.flights,
    },
    heightLostByTurn: turnsBack ? heightLostByTurn(request, { start, turn: side }) : [],
    sensitivity: sensitivities,
    spread: outcomes,
    footprint: reach,
    fields,
    optimised,
    ahead: start === undefined ? aheadReach(request, { toFt: windows.scannedToFt }) : null,
    flight,
  };
}

/** The windows of the technique as given, out of those of both sides where they hold its own. */
function windowsOf(request: FlyRequest, bothSides: ReturnWindows, scan: WindowOptions): ReturnWindows {
  const { turn } = request.technique;
  if (turn === 'best') return bothSides;
  const side = bothSides.bySide.find((one) => one.turn === turn);
  return side === undefined ? returnWindows(request, scan) : { ...bothSides, windows: side.windows, bySide: [side] };
}

/** The end of a scan nobody asked for, where the climb does not go so far; undefined: the usual one, or its refusal. */
function climbedFt(request: FlyRequest, start: FlightStart | undefined): number | undefined {
  if (start !== undefined) return undefined;
  const highestFt = highestClimbFt(request, SCAN_TO_FT);
  return highestFt > SCAN_FROM_FT ? highestFt : undefined;
}

/**
 * Heights round the lowest return, rounded to what a pilot would say, round the failure height where there is none; none
 * higher than the modelled climb goes.
 */
export function spreadHeightsFt(request: FlyRequest, lowestReturnFt: number | null, start?: FlightStart): number[] {
  const base = Math.ceil((lowestReturnFt ?? request.failure.heightFt) / 50) * 50;
  const climbedFt = start === undefined ? highestClimbFt(request, HIGHEST_SPREAD_FT) : HIGHEST_SPREAD_FT;
  const highestFt = Math.max(climbedFt, LOWEST_SPREAD_FT);
  const heights = SPREAD_ABOVE_FT.map((above) => Math.min(Math.max(base + above, LOWEST_SPREAD_FT), highestFt));
  return [...new Set(heights)];
}
