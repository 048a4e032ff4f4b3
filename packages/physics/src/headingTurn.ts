// The first part of a return by itself: delay, push and roll, a turn through so many degrees, wings level again, glide on.
import type { FlightModel } from './flight.js';
import { bankAvailableRad, pushLiftCommand } from './pilot.js';
import type { Technique } from './pilotProgram.js';
import { PowerSchedule } from './powerSchedule.js';
import { resetModel, type Scene } from './scene.js';
import { BANK, H } from './state.js';
import { clamp, GRAVITY_MPS2, RAD_PER_DEG, wrapRad } from './units.js';

const STEP_S = 0.1;
/** A glide that is not down after this time never will be (s). */
const TIME_LIMIT_S = 1_800;
/** Bank up to which the wings count as level, and how near the heading has to be then (rad). */
const LEVEL_RAD = 5 * RAD_PER_DEG;
const ON_HEADING_RAD = 1 * RAD_PER_DEG;
/** Share of a heading error taken out per second: as the return's turn does with its track. */
const HEADING_GAIN_PER_S = 1;

/** How a turn through a heading change came out; SI, runway frame. */
export interface TurnEnd {
  /** State with the wings level on the new heading. */
  readonly state: Float64Array;
  /** Failure to that moment (s). */
  readonly timeS: number;
}

/**
 * Flies one turn from a scene's failure moment, through a change of air heading to the side given, until the heading
 * is within 1° and the bank within 5°. The ground is not there: neither contact nor ground effect, so that the height
 * lost by a turn can be told from any height. Gear and flap stay as they were.
 *
 * @param side Right +1, left -1.
 * @param turnRad Change of air heading, 0 or more.
 */
export function flyHeadingTurn(scene: Scene, side: 1 | -1, turnRad: number): TurnEnd {
  const flight = new HeadingFlight(scene, side, turnRad);
  while (!flight.level && flight.timeS < TIME_LIMIT_S) flight.step(STEP_S);
  // Level somewhere inside the last step: what of it was still needed.
  const { before, state, levelShare } = flight;
  const at = before.map((value, index) => value + levelShare * ((state[index] as number) - value));
  return { state: at, timeS: flight.timeS - (1 - levelShare) * flight.lastStepS };
}

/** A turn that may be flown on as a straight glide: make a new one for each flight. */
export class HeadingFlight {
  readonly state: Float64Array;
  readonly before: Float64Array;
  timeS = 0;
  /** Length of the last step (s). */
  lastStepS = 0;
  /** The delay is over and the wings are level on the new heading. */
  level = false;
  /** Share of the last step after which that was so, once it is. */
  levelShare = 1;
  /** Speed gone for (equivalent airspeed, m/s). */
  targetMps: number;
  private toGoRad: number;
  private headingRad: number;
  private readonly power: PowerSchedule;
  private readonly holdBankRad: number;
  private readonly technique: Technique;
  private readonly model: FlightModel;
  private readonly law: (model: FlightModel, state: Float64Array) => void;

  constructor(
    scene: Scene,
    private readonly side: 1 | -1,
    turnRad: number,
  ) {
    resetModel(scene);
    this.model = scene.model;
    this.technique = scene.technique;
    this.model.rollRateLimitRadS = scene.technique.rollRateRadS;
    this.state = Float64Array.from(scene.start);
    this.before = Float64Array.from(scene.start);
    this.targetMps = scene.technique.targetMps;
    this.toGoRad = turnRad;
    this.power = new PowerSchedule(scene.request.failure);
    this.holdBankRad = scene.start[BANK] as number;
    this.model.observe(this.state);
    this.headingRad = Math.atan2(this.model.airY, this.model.airX);
    this.law = (model, state) => this.apply(model, state);
  }

  /** Advances by `stepS` seconds at most; the delay ends inside a step of its own. */
  step(stepS: number): void {
    const { model, state, technique } = this;
    const delayLeftS = technique.delayS - this.timeS;
    const untilS = Math.min(stepS, this.power.nextAtS - this.timeS);
    const dtS = delayLeftS > 1e-9 ? Math.min(untilS, delayLeftS) : untilS;
    this.before.set(state);
    model.groundEffect = false;
    model.liftHeld = delayLeftS > 1e-9;
    model.step(state, dtS, this.law);
    this.timeS += dtS;
    this.lastStepS = dtS;
    model.powerTarget = this.power.dueAt(this.timeS) ?? model.powerTarget;
    model.observe(state);
    model.groundEffect = true;
    const heading = Math.atan2(model.airY, model.airX);
    const toGoBefore = this.toGoRad;
    this.toGoRad -= this.side * wrapRad(heading - this.headingRad);
    this.headingRad = heading;
    if (this.level || delayLeftS > 1e-9) return;
    const onHeading = shareAtLimit(Math.abs(toGoBefore), Math.abs(this.toGoRad), ON_HEADING_RAD);
    const level = shareAtLimit(Math.abs(this.before[BANK] as number), Math.abs(state[BANK] as number), LEVEL_RAD);
    if (onHeading === null || level === null) return;
    this.level = true;
    this.levelShare = Math.max(onHeading, level);
  }

  get heightM(): number {
    return this.state[H] as number;
  }

  private apply(model: FlightModel, state: Float64Array): void {
    if (model.liftHeld) {
      model.bankCommandRad = this.holdBankRad;
      return;
    }
    const { technique } = this;
    // The heading inside a step is read from the state, the turns made before it are in toGoRad.
    const since = wrapRad(Math.atan2(model.airY, model.airX) - this.headingRad);
    const toGo = this.toGoRad - this.side * since;
    const limit = Math.min(technique.bankRad, bankAvailableRad(model, technique.stallMargin));
    const wanted = Math.atan((model.airHorizontalMps * HEADING_GAIN_PER_S * toGo) / GRAVITY_MPS2);
    model.bankCommandRad = this.side * clamp(wanted, -limit, limit);
    model.liftCommand = pushLiftCommand(
      model,
      state,
      this.targetMps,
      technique.stallMargin,
      technique.minimumLoadFactor,
    );
  }
}

/** Share of a step after which a falling value came within a limit; null when it is not within it at the end. */
function shareAtLimit(before: number, after: number, limit: number): number | null {
  if (after > limit) return null;
  return before <= limit ? 0 : (before - limit) / (before - after);
}
