// The set of failure heights from which a return works: every interval of it, each edge to a foot.
import type { Judged } from './aim.js';
import { checkAttemptInputs } from './checkRequest.js';
import { isLandingAhead } from './landingAhead.js';
import type { FlightStart, FlyRequest, Outcome } from './request.js';
import { isStop, searchesOf } from './returnSearch.js';
import { buildScenes, moveFailure } from './scene.js';
import { M_PER_FT, RAD_PER_DEG } from './units.js';

/** What a window holds: flights that stop on the runway, or the wider set that ends on the aerodrome. */
export type WindowOutcome = 'stopped-on-runway' | 'on-airfield';

/** Heights scanned when none are given (ft above the runway). */
export const SCAN_FROM_FT = 100;
export const SCAN_TO_FT = 3_000;
export const SCAN_STEP_FT = 50;
const PRECISION_FT = 1;

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
    const probe = (heightFt: number): Probe => {
      moveFailure(search.scene, heightFt);
      return { heightFt, runway: search.scene.target.name, judged: search.find() };
    };
    const probes: Probe[] = [];
    for (let heightFt = scan.fromFt; heightFt < scan.toFt + scan.stepFt; heightFt += scan.stepFt) {
      probes.push(probe(Math.min(heightFt, scan.toFt)));
      const share = Math.min((heightFt - scan.fromFt) / (scan.toFt - scan.fromFt), 1);
      options.onProgress?.((searchIndex + share) / searches.length);
    }
    const windows = OUTCOMES.flatMap((outcome) => intervals(outcome, probes, probe));
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

/** Lowest height of the windows that stop on the runway (ft); null when there is none. */
export function lowestStopFt(windows: readonly ReturnWindow[]): number | null {
  return windows.find(({ outcome }) => outcome === 'stopped-on-runway')?.fromFt ?? null;
}

interface Probe {
  readonly heightFt: number;
  readonly runway: string;
  readonly judged: Judged;
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

function reachesAirfield({ contact, flown }: Judged): boolean {
  return ON_AIRFIELD.has(contact.outcome) && !isLandingAhead(contact.outcome, flown.turnedRad);
}

function intervals(
  outcome: WindowOutcome,
  probes: readonly Probe[],
  probe: (heightFt: number) => Probe,
): ReturnWindow[] {
  const inside = ({ judged }: Probe) =>
    outcome === 'stopped-on-runway' ? isStop(judged) : isStop(judged) || reachesAirfield(judged);
  /** The outermost height that still works between one that does and one that does not. */
  const edge = (works: Probe, fails: Probe): Probe => {
    let good = works;
    let badFt = fails.heightFt;
    while (Math.abs(good.heightFt - badFt) > PRECISION_FT) {
      const middle = probe(Math.round((good.heightFt + badFt) / 2));
      if (inside(middle)) good = middle;
      else badFt = middle.heightFt;
    }
    return good;
  };
  const windows: ReturnWindow[] = [];
  for (let first = 0; first < probes.length; first++) {
    if (!inside(probes[first] as Probe)) continue;
    let last = first;
    while (last + 1 < probes.length && inside(probes[last + 1] as Probe)) last++;
    const below = probes[first - 1];
    const above = probes[last + 1];
    const low = below === undefined ? (probes[first] as Probe) : edge(probes[first] as Probe, below);
    const high = above === undefined ? (probes[last] as Probe) : edge(probes[last] as Probe, above);
    windows.push({
      outcome,
      fromFt: low.heightFt,
      toFt: high.heightFt,
      fromIsScanEnd: below === undefined,
      toIsScanEnd: above === undefined,
      lowest: edgeFlight(low),
      highest: edgeFlight(high),
    });
    first = last;
  }
  return windows;
}

function edgeFlight({ heightFt, runway, judged }: Probe): EdgeFlight {
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
