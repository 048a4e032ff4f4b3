// The set of failure heights from which a return works: every interval of it, each edge to a foot.
import type { Judged } from './aim.js';
import { checkAttemptInputs } from './checkRequest.js';
import { type KnownHeight, KnownHeights } from './knownHeights.js';
import { isLandingAhead } from './landingAhead.js';
import type { FlightStart, FlyRequest, Outcome } from './request.js';
import { bisected, failsAbove, flownEdge, ISLAND_FT, type ReturnProbe } from './returnEdge.js';
import { isStop, searchesOf } from './returnSearch.js';
import { buildScenes } from './scene.js';
import { M_PER_FT, RAD_PER_DEG } from './units.js';

/** What a window holds: flights that stop on the runway, or the wider set that ends on the aerodrome. */
export type WindowOutcome = 'stopped-on-runway' | 'on-airfield';

/** Heights scanned when none are given (ft above the runway). */
export const SCAN_FROM_FT = 100;
export const SCAN_TO_FT = 3_000;
export const SCAN_STEP_FT = 50;
/** An island may have islands beside it: they are told apart so many times at most. */
const MOST_ROUNDS = 20;

/** The flight at one edge of a window, on its inside: fly it again with `flyAttempt(…, { aimFt })`. */
export interface EdgeFlight {
  readonly heightFt: number;
  readonly outcome: Outcome;
  readonly turn: 'left' | 'right';
  /** Runway returned to. */
  readonly runway: string;
  /** Point on its centreline the straight leg was flown to (ft), as `FlyResult.aimFt` counts it. */
  readonly aimFt: number;
  /** Heading turned through in the first turn (deg). */
  readonly turnedDeg: number;
  /** Runway left when stopped (ft), negative: overrun; null when the contact was not on the runway. */
  readonly stopMarginFt: number | null;
}

export interface ReturnWindow {
  readonly outcome: WindowOutcome;
  /** Lowest and highest failure height of the interval (ft above the runway), both inside it. */
  readonly fromFt: number;
  readonly toFt: number;
  /** True: the interval runs into the end of the scan and is not known to end there. */
  readonly fromIsScanEnd: boolean;
  readonly toIsScanEnd: boolean;
  /** The flights at its two edges. */
  readonly lowest: EdgeFlight;
  readonly highest: EdgeFlight;
}

export interface ReturnWindows {
  /** In rising order of height, those of `stopped-on-runway` first. Empty: no return works within the scan. */
  readonly windows: readonly ReturnWindow[];
  /** The same for a turn to each side that the technique leaves open; left alone where right is its mirror image. */
  readonly bySide: readonly { readonly turn: 'left' | 'right'; readonly windows: readonly ReturnWindow[] }[];
  readonly scannedFromFt: number;
  readonly scannedToFt: number;
  /** An interval, or a gap between two, narrower than this may have been stepped over (ft). */
  readonly scanStepFt: number;
  /** Flights that the search took. */
  readonly flights: number;
}

export interface WindowOptions {
  /** Start from this moment instead of the modelled climb: only its height is then changed. */
  readonly start?: FlightStart | undefined;
  /** Heights scanned (ft above the runway), 50 to 6 000; 100 to 3 000 by 50 when absent. */
  readonly fromFt?: number | undefined;
  readonly toFt?: number | undefined;
  readonly stepFt?: number | undefined;
  /** Called after each height scanned with the share done, 0 to 1. */
  readonly onProgress?: ((share: number) => void) | undefined;
}

/**
 * Every interval of failure heights from which the technique brings the aeroplane back, by scan and bisection.
 *
 * `stopped-on-runway`: a flight of the family stops on the runway. `on-airfield`: it stops there, overruns it, or
 * touches down inside the aerodrome boundary, wings level and not stalled (outcomes `stopped-on-runway`, `overrun`,
 * `on-airfield`) after it turned back through 90° or more: the ground straight ahead of the first few feet is no return.
 * A return need not work from everywhere
 * above the lowest height: the farther out, the longer the way home, and a tail wind carries a high one past the end.
 * With the side left open, a height belongs to a window if a turn to either side works from it.
 *
 * @returns Intervals whose edges are known to 1 ft, with the flight at each edge, and the count of flights flown.
 *   Empty for a technique that lands ahead.
 * @throws {RangeError} As `flyAttempt`; or if the scan is out of range.
 */
export function returnWindows(request: FlyRequest, options: WindowOptions = {}): ReturnWindows {
  checkAttemptInputs(request, options.start);
  const scan = checkScan(options);
  const base = { scannedFromFt: scan.fromFt, scannedToFt: scan.toFt, scanStepFt: scan.stepFt };
  if (request.technique.turn === 'ahead') return { windows: [], bySide: [], ...base, flights: 0 };
  const scenes = buildScenes({ ...request, failure: { ...request.failure, heightFt: scan.fromFt } }, options.start);
  const searches = searchesOf(scenes);
  let flights = 0;
  const byTurn = searches.map((search, searchIndex) => {
    const known = new KnownHeights(search);
    for (let heightFt = scan.fromFt; heightFt < scan.toFt + scan.stepFt; heightFt += scan.stepFt) {
      known.probe(Math.min(heightFt, scan.toFt));
      const share = Math.min((heightFt - scan.fromFt) / (scan.toFt - scan.fromFt), 1);
      options.onProgress?.((searchIndex + share) / searches.length);
    }
    const windows = OUTCOMES.flatMap((outcome) => intervals(outcome, known));
    flights += search.flights;
    return { turn: search.side === 1 ? ('right' as const) : ('left' as const), windows };
  });
  const turns = [...new Set(byTurn.map(({ turn }) => turn))];
  const bySide = turns.map((turn) => {
    const found = byTurn.filter((one) => one.turn === turn).flatMap(({ windows }) => windows);
    return { turn, windows: OUTCOMES.flatMap((outcome) => united(found.filter((one) => one.outcome === outcome))) };
  });
  const all = bySide.flatMap(({ windows }) => windows);
  const windows = OUTCOMES.flatMap((outcome) => united(all.filter((window) => window.outcome === outcome)));
  return { windows, bySide, ...base, flights };
}

/** The intervals that overlapping ones make together, in rising order. */
function united(windows: readonly ReturnWindow[]): ReturnWindow[] {
  const result: ReturnWindow[] = [];
  for (const window of [...windows].sort((a, b) => a.fromFt - b.fromFt)) {
    const last = result.at(-1);
    if (last === undefined || window.fromFt > last.toFt) result.push(window);
    else if (window.toFt > last.toFt)
      result[result.length - 1] = {
        ...last,
        toFt: window.toFt,
        toIsScanEnd: window.toIsScanEnd,
        highest: window.highest,
      };
  }
  return result;
}

/**
 * True for a window narrower than 50 ft, unless the scan ended in it: no heights to plan with, for a pilot who means to
 * be in it has passed it three seconds later.
 */
export function isIsland({ fromFt, toFt, toIsScanEnd }: ReturnWindow): boolean {
  return !toIsScanEnd && toFt - fromFt < ISLAND_FT;
}

/** Lowest height of the windows that stop on the runway, islands apart (ft); null when there is none. */
export function lowestStopFt(windows: readonly ReturnWindow[]): number | null {
  const counts = (window: ReturnWindow) => window.outcome === 'stopped-on-runway' && !isIsland(window);
  return windows.find(counts)?.fromFt ?? null;
}

function checkScan({ fromFt = SCAN_FROM_FT, toFt = SCAN_TO_FT, stepFt = SCAN_STEP_FT }: WindowOptions) {
  if (!(fromFt >= 50 && fromFt <= 6_000)) throw new RangeError(`fromFt must be 50 to 6000 ft, got ${fromFt}`);
  if (!(toFt > fromFt && toFt <= 6_000))
    throw new RangeError(`toFt must be above fromFt (${fromFt}) to 6000 ft, got ${toFt}`);
  if (!(stepFt >= 5 && stepFt <= 1_000)) throw new RangeError(`stepFt must be 5 to 1000 ft, got ${stepFt}`);
  return { fromFt, toFt, stepFt };
}

const OUTCOMES = ['stopped-on-runway', 'on-airfield'] as const;
const ON_AIRFIELD: ReadonlySet<Outcome> = new Set<Outcome>(['stopped-on-runway', 'overrun', 'on-airfield']);

function isInside(outcome: WindowOutcome, judged: Judged): boolean {
  return isStop(judged) || (outcome === 'on-airfield' && reachesAirfield(judged));
}

function reachesAirfield({ contact, flown }: Judged): boolean {
  return ON_AIRFIELD.has(contact.outcome) && !isLandingAhead(contact.outcome, flown.turnedRad);
}

/**
 * The intervals of one outcome among the heights known, their edges refined. What is flown meanwhile may contradict what
 * a search handed the aim of its neighbour found, or split an island off: then all is told again from what is known.
 */
function intervals(outcome: WindowOutcome, known: KnownHeights): ReturnWindow[] {
  const seen = ({ heightFt, runway, judged }: KnownHeight): Seen => ({
    heightFt,
    runway,
    judged,
    works: isInside(outcome, judged),
  });
  const probe = (heightFt: number) => seen(known.probe(heightFt));
  const fly = (heightFt: number) => seen(known.fly(heightFt));
  // Where no search stops, which of two misses is the better one is a matter of luck: that edge is only held to be true.
  const trials = { probe, fly, outwards: outcome === 'stopped-on-runway' };
  for (let round = 0; ; round++) {
    const before = known.contradictions;
    const windows = runsOf(known.inOrder().map(seen)).flatMap(({ below, first, last, above }) => {
      const low = below === undefined ? first : edgeOf(first, below, last.heightFt, trials);
      if (low === null) return [];
      const high = above === undefined ? last : edgeOf(last, above, low.heightFt, trials);
      return high === null ? [] : [windowOf(outcome, low, high, below === undefined, above === undefined)];
    });
    const opening = outcome === 'stopped-on-runway' ? windows.filter(({ fromIsScanEnd }) => !fromIsScanEnd) : [];
    // Every window is looked at in one round, not only up to the first that is split: what fails there is then known.
    const split = opening.filter(({ fromFt, toFt }) => failsAbove(fromFt, toFt, probe) !== null);
    const isSplit = split.length > 0;
    if ((!isSplit && known.contradictions === before) || round === MOST_ROUNDS) return windows;
  }
}

interface Seen extends KnownHeight, ReturnProbe {}

interface Trials {
  readonly probe: (heightFt: number) => Seen;
  readonly fly: (heightFt: number) => Seen;
  /** Edges are moved out as well as in, to where the flights agree. */
  readonly outwards: boolean;
}

function edgeOf(works: Seen, fails: Seen, insideFt: number, { probe, fly, outwards }: Trials): Seen | null {
  return flownEdge(bisected(works, fails.heightFt, probe), insideFt, fails.heightFt, fly, outwards);
}

/** Heights in a row that work, and the ones next to them that do not; undefined: the scan ends there. */
function runsOf(inOrder: readonly Seen[]) {
  const runs: { below: Seen | undefined; first: Seen; last: Seen; above: Seen | undefined }[] = [];
  inOrder.forEach((one, index) => {
    const below = inOrder[index - 1];
    const run = runs.at(-1);
    if (!one.works) {
      if (below?.works && run !== undefined) run.above = one;
    } else if (below?.works && run !== undefined) run.last = one;
    else runs.push({ below, first: one, last: one, above: undefined });
  });
  return runs;
}

function windowOf(
  outcome: WindowOutcome,
  low: KnownHeight,
  high: KnownHeight,
  fromIsScanEnd: boolean,
  toIsScanEnd: boolean,
): ReturnWindow {
  const { heightFt: fromFt } = low;
  const { heightFt: toFt } = high;
  return { outcome, fromFt, toFt, fromIsScanEnd, toIsScanEnd, lowest: edgeFlight(low), highest: edgeFlight(high) };
}

function edgeFlight({ heightFt, runway, judged }: KnownHeight): EdgeFlight {
  const { aim, contact, flown } = judged;
  if (aim === null) throw new RangeError('a return needs an aim'); // find() always flies one
  return {
    heightFt,
    outcome: contact.outcome,
    turn: aim.side === 1 ? 'right' : 'left',
    runway,
    aimFt: aim.aimM / M_PER_FT,
    turnedDeg: flown.turnedRad / RAD_PER_DEG,
    stopMarginFt: contact.stopMarginM === null ? null : contact.stopMarginM / M_PER_FT,
  };
}
