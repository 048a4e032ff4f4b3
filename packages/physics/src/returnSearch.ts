// Whether a return works from a failure moment: the search of aim and side, made cheap for many moments in a row.
import {
  aimGrid,
  atBrink,
  bestAim,
  closeIn,
  costOf,
  FINE_SHARE,
  flyAim,
  isNearMiss,
  type Judged,
  RANK_STEP,
  valleysOf,
} from './aim.js';
import { SEARCH_STEP_S, STEP_S } from './attempt.js';
import { mostPower } from './powerSchedule.js';
import type { Scene } from './scene.js';
import { BANK, H, VY, X, Y } from './state.js';
import { stripOf } from './strip.js';
import { GRAVITY_MPS2, MPS_PER_KT } from './units.js';

/** An aim that stopped last time is closed in on within this (m), in so many trials. */
const HINT_REACH_M = 150;
const HINT_ROUNDS = 5;
/** A search that misses by less than this is close to an edge of the window (m). */
const EDGE_MISS_M = 60;
/** A surface wind grows by less than this up to 1000 ft (1.8 from 20 ft, more from lower down). */
const WIND_GROWTH = 3;
/** The delay still has power left to die away, and the ground has a cushion (m). */
const REACH_SPARE_M = 300;

/** True when left and right are mirror images: on the centreline, wings level, no wind across it at any height. */
export function isSymmetric({ start, model }: Scene): boolean {
  return start[Y] === 0 && start[VY] === 0 && start[BANK] === 0 && model.wind.alongOnly;
}

/** Sides a technique may turn to; one of the two where they mirror each other. */
export function sidesOf(scene: Scene): readonly (1 | -1)[] {
  const { turn } = scene.request.technique;
  if (turn === 'left') return [-1];
  if (turn === 'right') return [1];
  return isSymmetric(scene) ? [-1] : [-1, 1];
}

/** A search for each runway and side a return may take; call `moveFailure` for each scene before a search. */
export function searchesOf(scenes: readonly Scene[]): ReturnSearch[] {
  return scenes.flatMap((scene) => sidesOf(scene).map((side) => new ReturnSearch(scene, side)));
}

/**
 * Searches one scene for a return to one side, again and again, its failure moment moved in between. An aim that stops
 * on the runway ends a search: it is remembered and tried first the next time.
 */
export class ReturnSearch {
  /** Flights flown so far. */
  flights = 0;
  /** The last answer of `find` is that of `asFlown`. */
  answeredAsFlown = false;

  /** @param hintM An aim to try first (m along), where one is known. */
  constructor(
    readonly scene: Scene,
    readonly side: 1 | -1,
    private hintM: number | null = null,
  ) {}

  /** A flight that stops on the runway if there is one, else the one that comes nearest to it. */
  find(): Judged {
    this.answeredAsFlown = false;
    if (!mayReach(this.scene)) return this.asFlown();
    const seen = new Trials((aimM, stepS) => this.fly(aimM, stepS));
    const hintM = this.hintM;
    if (hintM !== null) {
      const value = seen.cost(hintM);
      if (isNearMiss(value)) closeIn(seen.cost, hintM, value, HINT_REACH_M, HINT_ROUNDS);
    }
    const { count, spacingM } = aimGrid(this.scene);
    const costs = Array.from({ length: count }, (_, index) => seen.cost(index * spacingM));
    for (const index of seen.stop === null ? valleysOf(costs) : [])
      if (isNearMiss(costs[index] ?? 0)) closeIn(seen.cost, index * spacingM, costs[index] ?? 0, spacingM);
    if (seen.stop === null && isNearMiss(seen.bestCost))
      closeIn(seen.cost, seen.bestAimM, seen.bestCost, spacingM * FINE_SHARE);
    if (seen.stop === null) {
      atBrink(seen.cost, costs, spacingM);
      if (seen.stop !== null) return this.asFlown();
    }
    if (seen.stop === null)
      return seen.bestCost % RANK_STEP > EDGE_MISS_M ? this.fly(seen.bestAimM, STEP_S) : this.asFlown();
    this.hintM = seen.bestAimM;
    return seen.stop;
  }

  /**
   * The flight of `flyAttempt` to this side: its search of the aim knows nothing of the heights before. Next to an edge
   * it has the last word, so that a window and its flights never disagree.
   */
  asFlown(): Judged {
    this.answeredAsFlown = true;
    if (!mayReach(this.scene)) return this.fly(0, STEP_S);
    const chosen = bestAim(this.scene, this.side);
    this.flights += chosen.flights;
    return this.fly(chosen.aim.aimM, STEP_S);
  }

  private fly(aimM: number, stepS: number): Judged {
    this.flights++;
    return flyAim(this.scene, { side: this.side, aimM }, stepS);
  }
}

export function isStop(judged: Judged): boolean {
  return judged.contact.outcome === 'stopped-on-runway' && costOf(judged) < RANK_STEP / 2;
}

/** What the trials of one search came to. Once a flight has stopped, nothing more is flown. */
class Trials {
  stop: Judged | null = null;
  bestAimM = 0;
  bestCost = Number.POSITIVE_INFINITY;

  constructor(private readonly fly: (aimM: number, stepS: number) => Judged) {}

  /** Cost of an aim; one that seems to stop is flown again with the step of an answer. */
  readonly cost = (aimM: number): number => {
    if (this.stop !== null) return Number.POSITIVE_INFINITY;
    let judged = this.fly(aimM, SEARCH_STEP_S);
    if (isStop(judged)) {
      judged = this.fly(aimM, STEP_S);
      if (isStop(judged)) this.stop = judged;
    }
    const value = costOf(judged);
    if (value < this.bestCost) {
      this.bestCost = value;
      this.bestAimM = aimM;
    }
    return value;
  };
}

/** False only if not even the best glide, all speed turned into height and the wind behind it, reaches the runway. */
export function mayReach({ start, model, plane, request }: Scene): boolean {
  if (mostPower(request.failure) > 0) return true;
  const { startM, endM } = stripOf(request.runway);
  const x = start[X] as number;
  const offM = Math.hypot(x < startM ? startM - x : Math.max(x - endM, 0), start[Y] as number);
  model.observe(start);
  const energyM = (start[H] as number) + model.tasMps ** 2 / (2 * GRAVITY_MPS2);
  const dragZeroLift = plane.dragZeroLift + Math.min(0, ...Object.values(plane.propellerDrag));
  const ratio = 1 / (2 * Math.sqrt(dragZeroLift * plane.inducedFactor));
  const windMps = Math.max(0, ...request.weather.winds.map((wind) => wind.speedKt)) * MPS_PER_KT * WIND_GROWTH;
  // Sink is least a little below best glide; 0.8 of the sink there is below it for every polar (0.877).
  const leastSinkMps = (0.8 * plane.bestGlideMps) / ratio;
  return energyM * (ratio + windMps / leastSinkMps) > offM - REACH_SPARE_M;
}
