// Which way to turn, and what the other way costs.
import { bestAim, costOf, flyAim, type Judged } from './aim.js';
import { STEP_S } from './attempt.js';
import { checkAttemptInputs } from './checkRequest.js';
import type { FlightStart, FlyRequest, Outcome } from './request.js';
import { isSymmetric } from './returnSearch.js';
import { lowestStopFt, type ReturnWindows, returnWindows } from './returnWindows.js';
import { buildScenes, type Scene } from './scene.js';
import { H } from './state.js';
import { M_PER_FT, RAD_PER_DEG } from './units.js';

/** One side, flown from the failure height of the request and from below. */
export interface TurnSide {
  /** Lowest failure height from which a return to this side works (ft); null: none within the scan. */
  readonly lowestReturnFt: number | null;
  readonly outcome: Outcome;
  /** From failure height to 180° of turn (ft); null when it did not turn so far. */
  readonly heightLostTo180Ft: number | null;
  readonly turnedDeg: number;
  /** Runway left when stopped (ft), negative: overrun; null when the contact was not on the runway. */
  readonly stopMarginFt: number | null;
  readonly timeToGroundS: number;
}

export interface BestTurn {
  readonly turn: 'left' | 'right';
  /** False: the sides mirror each other, the one named is as good as the other. */
  readonly matters: boolean;
  /** The side that ends better from the failure height of the request: higher up it may be the longer way round. */
  readonly atFailureHeight: 'left' | 'right';
  readonly left: TurnSide;
  readonly right: TurnSide;
  /** What turning the other way costs; negative: it gains; null where a figure is missing on either side. */
  readonly wrongTurn: {
    /** More height needed (ft). */
    readonly lowestReturnFt: number | null;
    /** More height lost to 180° of turn (ft). */
    readonly heightLostTo180Ft: number | null;
    /** Less runway left when stopped (ft). */
    readonly stopMarginFt: number | null;
  };
}

/**
 * The better side for the first turn. Better is the one with the lower lowest return; where those are equal or there
 * is none, the one whose flight from the failure height of the request ends better. The technique's own choice of side
 * is not read.
 *
 * @param options.windows What `returnWindows` found with the side left open; searched when absent.
 * @throws {RangeError} As `flyAttempt`.
 */
export function bestTurn(
  request: FlyRequest,
  options: { readonly start?: FlightStart | undefined; readonly windows?: ReturnWindows | undefined } = {},
): BestTurn {
  checkAttemptInputs(request, options.start);
  const open: FlyRequest = { ...request, technique: { ...request.technique, turn: 'best' } };
  const windows = options.windows ?? returnWindows(open, { start: options.start });
  const scenes = buildScenes(open, options.start);
  const matters = scenes.length > 1 || !scenes.every(isSymmetric);
  const lowest = (turn: 'left' | 'right') =>
    lowestStopFt(windows.bySide.find((side) => side.turn === turn)?.windows ?? (matters ? [] : windows.windows));
  const leftFlight = fly(scenes, -1);
  const rightFlight = fly(scenes, 1);
  const left = told(leftFlight, lowest('left'));
  const right = told(rightFlight, lowest('right'));
  const byHeight =
    (left.lowestReturnFt ?? Number.POSITIVE_INFINITY) - (right.lowestReturnFt ?? Number.POSITIVE_INFINITY);
  const byFlight = costOf(leftFlight) - costOf(rightFlight);
  const rightIsBetter = matters && (byHeight > 0 || (!(byHeight < 0) && byFlight > 0));
  const [good, bad] = rightIsBetter ? [right, left] : [left, right];
  return {
    turn: rightIsBetter ? 'right' : 'left',
    matters,
    atFailureHeight: matters && byFlight > 0 ? 'right' : 'left',
    left,
    right,
    wrongTurn: {
      lowestReturnFt: less(bad.lowestReturnFt, good.lowestReturnFt),
      heightLostTo180Ft: less(bad.heightLostTo180Ft, good.heightLostTo180Ft),
      stopMarginFt: less(good.stopMarginFt, bad.stopMarginFt),
    },
  };
}

/** The best flight to a side, over all runways that may be returned to. */
function fly(scenes: readonly Scene[], side: 1 | -1): Judged & { readonly startM: number } {
  const flights = scenes.map((scene) => ({
    ...flyAim(scene, bestAim(scene, side).aim, STEP_S),
    startM: scene.start[H] as number,
  }));
  return flights.reduce((best, flight) => (costOf(flight) < costOf(best) ? flight : best));
}

function told(
  { flown, contact, startM }: Judged & { readonly startM: number },
  lowestReturnFt: number | null,
): TurnSide {
  return {
    lowestReturnFt,
    outcome: contact.outcome,
    heightLostTo180Ft: flown.heightAt180M === null ? null : (startM - flown.heightAt180M) / M_PER_FT,
    turnedDeg: flown.turnedRad / RAD_PER_DEG,
    stopMarginFt: contact.stopMarginM === null ? null : contact.stopMarginM / M_PER_FT,
    timeToGroundS: flown.timeS,
  };
}

function less(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : a - b;
}
