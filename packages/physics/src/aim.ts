// Where to aim: the search over the point on the centreline and the side of the turn for the best return.
import { Attempt, type Flown, SEARCH_STEP_S, STEP_S } from './attempt.js';
import { groundRollM } from './groundRoll.js';
import { type Contact, isOnAirfield, judgeContact } from './outcome.js';
import { PilotProgram } from './pilotProgram.js';
import { PowerSchedule } from './powerSchedule.js';
import type { Outcome } from './request.js';
import { resetModel, type Scene } from './scene.js';
import { BANK, VX, VY, X, Y } from './state.js';
import type { Aim } from './steering.js';
import { stripOf } from './strip.js';
import { fromFrame } from './targets.js';
import type { FlownTrack } from './track.js';
import type { Turbulence } from './turbulence.js';
import { M_PER_FT, RAD_PER_DEG } from './units.js';

/** Fewest points of the first pass along the centreline; valleys of it that are closed in on; trials of each closing-in. */
const LEAST_GRID = 14;
/** Points of the first pass lie no farther apart than this (m): the aims of a long way home work in narrow bands. */
const WIDEST_SPACING_M = 250;
const VALLEYS = 3;
const CLOSING_ROUNDS = 7;
/** Miss of an aim within which one near it may still stop (m). */
const NEAR_MISS_M = 400;
/** A near miss is closed in on once more, within this share of the spacing. */
export const FINE_SHARE = 0.1;
/** Overrun up to which the farthest aims are looked at more closely, what counts as the same, and how closely (m). */
const BRINK_OVERRUN_M = 600;
const SAME_OVERRUN_M = 10;
const BRINK_M = 1;
/** Points beyond the first pass that are tried for it. */
const BEYOND_POINTS = 3;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** Height below which rolling out of the alignment counts against an aim (m), about 100 ft; common practice, no source. */
const LEVEL_BY_M = 30;
/** Margin at either end beyond which more is not better (m). */
const ENOUGH_MARGIN_M = 300;
/** Margin below which every metre counts several times (m). */
const THIN_MARGIN_M = 60;
const THIN_WEIGHT = 4;
/** What a metre of late levelling, a degree of track error and a metre off the centreline count for, in metres of margin. */
const LATE_WEIGHT = 2;
const ASKEW_M_PER_DEG = 10;
const OFF_WEIGHT = 5;
/** Order of outcomes in the search, worse by more than any miss. */
const RANK: { readonly [outcome in Outcome]: number } = {
  'stopped-on-runway': 0,
  overrun: 1,
  'on-airfield': 1,
  'off-airfield': 2,
  'wing-low-contact': 3,
  stall: 4,
};
export const RANK_STEP = 1e6;
/** More than this is a circle flown by accident, not a return (rad). */
const CIRCLING_RAD = 330 * RAD_PER_DEG;

/** A flight and what its contact came to. */
export interface Judged {
  readonly aim: Aim | null;
  readonly flown: Flown;
  readonly contact: Contact;
}

/** An aim and what it costs; smaller is better. */
export interface ChosenAim {
  readonly aim: Aim;
  readonly cost: number;
  /** Flights the search took. */
  readonly flights: number;
}

/** Flies one aim (null: ahead) from the scene's start. */
export function flyAim(
  scene: Scene,
  aim: Aim | null,
  stepS: number,
  recording: { readonly track: FlownTrack; readonly everyS: number } | null = null,
  gusts: Turbulence | null = null,
): Judged {
  resetModel(scene);
  const { request } = scene;
  const { runway } = request;
  const program = new PilotProgram(scene.technique, aim, stripOf(runway), scene.start[BANK] as number);
  const recorder = recording === null ? null : { ...recording, runwayHeadingDeg: runway.headingTrueDeg };
  const flown = new Attempt(scene.model, program, scene.start, recorder, new PowerSchedule(request.failure), gusts).fly(
    stepS,
  );
  const groundspeed = Math.hypot(flown.contact[VX] as number, flown.contact[VY] as number);
  const rollM = groundRollM(
    request.aircraft.landingRollFt * M_PER_FT,
    groundspeed,
    scene.referenceTouchdownMps,
    runway.surface,
    (aim === null ? -1 : 1) * (runway.slopePercent ?? 0),
  );
  const { contact } = flown;
  const direction = aim === null ? 1 : -1;
  const inside = onAirfield(scene, contact[X] as number, contact[Y] as number);
  return { aim, flown, contact: judgeContact(contact, runway, direction, rollM, flown.stalled, inside) };
}

/** Inside the aerodrome, or on the runway returned to where that lies outside its box; a point of the scene's frame. */
function onAirfield({ target, departed, request }: Scene, x: number, y: number): boolean {
  const { alongM, acrossM } = fromFrame(target.frame, x, y);
  if (isOnAirfield(departed.request.runway, alongM, acrossM)) return true;
  const bare = { ...request.runway, airfield: { beyondEndFt: 0, besideFt: 0 } };
  return target.frame !== null && isOnAirfield(bare, x, y);
}

/**
 * The best aim on one side: a first pass along the centreline from the far runway end to abeam the failure, then a
 * closing-in around the best point. Best means the outcome first; among landings that stop, the one with the larger
 * of its two margins' smaller (past the threshold, before the end) and with the wings level by 100 ft; among the
 * others, the smallest miss.
 */
export function bestAim(scene: Scene, side: 1 | -1): ChosenAim {
  const chosen = searchAim(scene, side, SEARCH_STEP_S);
  if (chosen.cost >= RANK_STEP / 2) return chosen;
  // The search may end on an edge that only its longer step can hold: such an aim is searched again with the short one.
  const flown = costOf(flyAim(scene, chosen.aim, STEP_S));
  const flights = chosen.flights + 1;
  if (flown < RANK_STEP / 2) return { aim: chosen.aim, cost: flown, flights };
  const fine = searchAim(scene, side, STEP_S);
  return { ...fine, flights: fine.flights + flights };
}

/** Points of the first pass along the centreline, from the far runway end to abeam the failure. */
export function aimGrid(scene: Scene): { readonly count: number; readonly spacingM: number } {
  const { start, request, target } = scene;
  const lengthM = request.runway.lengthFt * M_PER_FT;
  // A runway that lies across the way is joined from beside it: as far out again as the aeroplane is off its centreline.
  const besideM = target.frame === null ? 0 : lengthM + Math.abs(start[Y] as number);
  const rangeM = Math.max(start[X] as number, lengthM, besideM);
  const count = Math.max(LEAST_GRID, Math.ceil(rangeM / WIDEST_SPACING_M) + 1);
  return { count, spacingM: rangeM / (count - 1) };
}

/** Grid points lower than both neighbours, the lowest first. */
export function valleysOf(costs: readonly number[]): number[] {
  const at = (index: number) => costs[index] ?? Number.POSITIVE_INFINITY;
  return costs
    .map((_, index) => index)
    .filter((index) => at(index) <= at(index - 1) && at(index) <= at(index + 1))
    .sort((a, b) => at(a) - at(b))
    .slice(0, VALLEYS);
}

function searchAim(scene: Scene, side: 1 | -1, stepS: number): ChosenAim {
  const { count, spacingM } = aimGrid(scene);
  let flights = 0;
  const cost = (aimM: number) => {
    flights++;
    return costOf(flyAim(scene, { side, aimM }, stepS));
  };
  const costs = Array.from({ length: count }, (_, index) => cost(index * spacingM));
  let best = { aimM: 0, cost: Number.POSITIVE_INFINITY };
  for (const index of valleysOf(costs)) {
    const closed = closeIn(cost, index * spacingM, costs[index] ?? 0, spacingM);
    if (closed.cost < best.cost) best = closed;
    if (best.cost < RANK_STEP / 2) break; // it stops on the runway: the other valleys are there to find that
  }
  if (best.cost >= RANK_STEP / 2 && isNearMiss(best.cost))
    best = closeIn(cost, best.aimM, best.cost, spacingM * FINE_SHARE);
  if (best.cost >= RANK_STEP / 2) {
    const brink = atBrink(cost, costs, spacingM);
    if (brink !== null && brink.cost < best.cost) best = brink;
  }
  return { aim: { side, aimM: best.aimM }, cost: best.cost, flights };
}

/** True for an aim near which another may still stop. */
export function isNearMiss(cost: number): boolean {
  return cost % RANK_STEP <= NEAR_MISS_M;
}

/**
 * The farthest aims that still come back overrun by the same few metres, wherever they are; one a little farther does
 * not come back at all. Between the two lies a band, a few metres wide, whose way home is longer: this bisects for it.
 *
 * @param costs Of the first pass.
 * @returns The best aim seen; null where no overrun is small enough to be worth it.
 */
export function atBrink(
  cost: (aimM: number) => number,
  costs: readonly number[],
  spacingM: number,
): { readonly aimM: number; readonly cost: number } | null {
  const least = Math.min(...costs);
  if (least > RANK_STEP + BRINK_OVERRUN_M) return null;
  const isBack = (value: number) => value <= least + SAME_OVERRUN_M;
  let last = costs.map(isBack).lastIndexOf(true);
  let best = { aimM: last * spacingM, cost: costs[last] ?? 0 };
  // It may lie a little beyond the first pass: the aeroplane comes back from farther out than where the engine stopped.
  for (const end = last; end === costs.length - 1 && isBack(best.cost); last++) {
    if (last - end === BEYOND_POINTS) return null;
    const next = { aimM: (last + 1) * spacingM, cost: cost((last + 1) * spacingM) };
    if (!isBack(next.cost)) break;
    best = next;
  }
  let low = last * spacingM;
  let high = low + spacingM;
  while (high - low > BRINK_M && best.cost >= RANK_STEP / 2) {
    const aimM = (low + high) / 2;
    const value = cost(aimM);
    if (value < best.cost) best = { aimM, cost: value };
    if (isBack(value)) low = aimM;
    else high = aimM;
  }
  return best;
}

/** Golden-section search between the neighbours of a grid point; the best point seen, the grid point included. */
export function closeIn(
  cost: (aimM: number) => number,
  aimM: number,
  aimCost: number,
  spacingM: number,
  rounds = CLOSING_ROUNDS,
) {
  const best = { aimM, cost: aimCost };
  const tried = (trialM: number) => {
    const value = cost(trialM);
    if (value < best.cost) {
      best.cost = value;
      best.aimM = trialM;
    }
    return value;
  };
  let low = aimM - spacingM;
  let high = aimM + spacingM;
  let left = high - GOLDEN * (high - low);
  let right = low + GOLDEN * (high - low);
  let leftCost = tried(left);
  let rightCost = tried(right);
  for (let i = 0; i < rounds; i++) {
    if (leftCost <= rightCost) {
      high = right;
      right = left;
      rightCost = leftCost;
      left = high - GOLDEN * (high - low);
      leftCost = tried(left);
    } else {
      low = left;
      left = right;
      leftCost = rightCost;
      right = low + GOLDEN * (high - low);
      rightCost = tried(right);
    }
  }
  return best;
}

/** Smaller is better: outcome, then miss, then how little margin a landing that stops leaves. */
export function costOf({ contact, flown }: Judged): number {
  const rank = (RANK[contact.outcome] + (flown.turnedRad > CIRCLING_RAD ? 5 : 0)) * RANK_STEP;
  if (contact.outcome !== 'stopped-on-runway') return rank + contact.miss;
  const margin = Math.min(contact.pastThresholdM, contact.stopMarginM ?? 0, ENOUGH_MARGIN_M);
  const late = Math.max(LEVEL_BY_M - flown.wingsLevelM, 0);
  const askew = Math.abs(contact.headingErrorRad) / RAD_PER_DEG;
  const off = Math.abs(flown.contact[Y] as number);
  const thin = Math.max(THIN_MARGIN_M - margin, 0);
  return rank - margin + THIN_WEIGHT * thin + LATE_WEIGHT * late + ASKEW_M_PER_DEG * askew + OFF_WEIGHT * off;
}
