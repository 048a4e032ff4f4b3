// The modelled pilot from the failure to the ground: phases, what ends each, and the commands given in each.
import { trueFromCalibrated } from './atmosphere.js';
import type { FlightModel } from './flight.js';
import {
  bankAvailableRad,
  FLARE_HEIGHT_M,
  flareLiftCommand,
  flareSlopePerS,
  type PushGoal,
  pushGoal,
  pushTowards,
  steadyPathRad,
} from './pilot.js';
import type { TechniqueNumbers } from './request.js';
import * as indices from './state.js';
import {
  type Aim,
  alignDue,
  bankLimitNearGroundRad,
  type Capture,
  captureOf,
  LEVELLING_HEIGHT_M,
  steerToAim,
  steerToCentreline,
  turnToGoRad,
  USUAL_ALIGN_TIME_S,
  usualAlignBankRad,
} from './steering.js';
import { groundM, groundSlope, type Strip } from './strip.js';
import { clamp, GRAVITY_MPS2, M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from './units.js';

// A constant of this file is folded into the code, an imported binding is not.
const { H, VH, VX, X, Y } = indices;

/** What the pilot is doing; in this order, some left out. */
export type Phase = 'delay' | 'turn' | 'straight' | 'align' | 'final' | 'flare';

/** Track error at which the first turn counts as done (rad). */
const TURN_DONE_RAD = 3 * RAD_PER_DEG;
/** The turn has come this far round before the alignment may begin (rad to go to the aim point at most). */
const ALIGN_TURN_TO_GO_RAD = 60 * RAD_PER_DEG;
/** Off the centreline by less than this, and closing slowly, counts as final (m, m/s). */
const FINAL_OFF_M = 8;
/** Touchdown meant: a share of the runway from the landing threshold, and at most 1000 ft of it. */
const TOUCHDOWN_SHARE = 0.25;
const TOUCHDOWN_LIMIT_M = 1_000 * M_PER_FT;
/** Height over the glide line that is kept before a running engine is closed, and over which the full slip is used (m). */
const SPARE_HEIGHT_M = 15;
const SLIP_ENDS_BELOW_M = 15;
/** Well out of ground effect (m). */
const HIGH_M = 1_000;

/** A technique in SI units. */
export interface Technique {
  readonly delayS: number;
  readonly targetMps: number;
  readonly straightMps: number;
  /** From the alignment turn on. */
  readonly alignMps: number;
  /** At the beginning of the turn; it goes over to `targetMps` in proportion to the angle turned. */
  readonly turnEntryMps: number;
  /** From the turn on the speed goes from `straightMps` to `alignMps` in proportion to the height lost down to the flare. */
  readonly speedEased: boolean;
  readonly bankRad: number;
  /** In the first turn the bank stays where the margin leaves no level turn: the lift alone is held to it. */
  readonly bankKept: boolean;
  /** Bank the alignment turn is planned with. */
  readonly alignBankRad: number;
  /** Time constant with which the centreline is closed at the end of it. */
  readonly alignTimeS: number;
  readonly stallMargin: number;
  readonly rollRateRadS: number;
  readonly minimumLoadFactor: number;
  readonly gearDownM: number | null;
  readonly flapDownM: number | null;
  readonly slipDrag: number;
}

export function techniqueSi(numbers: TechniqueNumbers): Technique {
  return {
    delayS: numbers.delayS,
    targetMps: numbers.targetKcas * MPS_PER_KT,
    straightMps: (numbers.straightKcas ?? numbers.targetKcas) * MPS_PER_KT,
    alignMps: (numbers.alignKcas ?? numbers.targetKcas) * MPS_PER_KT,
    turnEntryMps: (numbers.turnEntryKcas ?? numbers.targetKcas) * MPS_PER_KT,
    speedEased: numbers.speedEased ?? false,
    bankRad: numbers.bankDeg * RAD_PER_DEG,
    bankKept: numbers.bankKept ?? false,
    alignBankRad:
      numbers.alignBankDeg === undefined
        ? usualAlignBankRad(numbers.bankDeg * RAD_PER_DEG)
        : numbers.alignBankDeg * RAD_PER_DEG,
    alignTimeS: numbers.alignTimeS ?? USUAL_ALIGN_TIME_S,
    stallMargin: numbers.stallMargin,
    rollRateRadS: numbers.rollRateDegS * RAD_PER_DEG,
    minimumLoadFactor: numbers.minimumLoadFactor,
    gearDownM: numbers.gearDownHeightFt === null ? null : numbers.gearDownHeightFt * M_PER_FT,
    flapDownM: numbers.flapDownHeightFt === null ? null : numbers.flapDownHeightFt * M_PER_FT,
    slipDrag: numbers.sideslipDragCoefficient ?? 0,
  };
}

/**
 * One attempt as the pilot means to fly it: back to the runway by an aim point, or (aim null) ahead, wings level.
 * `apply` is the control law; `phaseEnd` turns positive when the phase is over, `advance` then goes on to the next.
 */
export class PilotProgram {
  phase: Phase = 'delay';
  /** Of the flare under way; see `flareLiftCommand`. */
  flareSlopePerS = 0;
  private readonly capture: Capture;
  private readonly touchdownM: number;
  private readonly holdBankRad: number;
  private readonly cosBank: number;
  private readonly goal: PushGoal;
  /** Height lost per distance straight, and per radian turned. */
  private glideSlope = 0;
  private turnLossM = 0;
  /** The speed gone for changes within a phase; angle to turn when it began (rad), and height over the flare when it was done (m). */
  private readonly eased: boolean;
  private turnRad = 1;
  private easeM = 1;

  constructor(
    readonly technique: Technique,
    readonly aim: Aim | null,
    private readonly strip: Strip,
    bankAtFailureRad: number,
  ) {
    this.capture = captureOf(technique.alignBankRad, technique.alignTimeS);
    this.eased = aim !== null && (technique.speedEased || technique.turnEntryMps !== technique.targetMps);
    const inM = Math.min(TOUCHDOWN_SHARE * (strip.endM - strip.startM), TOUCHDOWN_LIMIT_M);
    this.touchdownM = aim === null ? strip.startM + inM : strip.endM - inM;
    this.holdBankRad = bankAtFailureRad;
    this.cosBank = Math.cos(technique.bankRad);
    this.goal = pushGoal(technique.stallMargin, technique.minimumLoadFactor);
    this.goal.targetMps = this.targetMps;
  }

  /** Sets bank, lift and slip of the model for its present air data. Does not allocate. */
  apply(model: FlightModel, state: Float64Array): void {
    model.liftHeld = this.phase === 'delay';
    if (this.phase === 'delay') {
      model.bankCommandRad = this.holdBankRad;
      return;
    }
    this.steer(model, state);
    if (this.technique.slipDrag !== 0) model.slipTo(this.slipDrag(state));
    if (this.phase === 'flare') {
      model.liftCommand = flareLiftCommand(model, state, this.flareSlopePerS, this.heightM(state), this.sinkMps(state));
      return;
    }
    if (this.eased) this.easeSpeed(state);
    pushTowards(model, state, this.goal);
  }

  /** Sets the speed gone for where it changes within a phase. */
  private easeSpeed(state: Float64Array): void {
    const { aim, phase } = this;
    if (aim === null) return;
    const { targetMps, turnEntryMps, straightMps, alignMps, speedEased } = this.technique;
    if (phase === 'turn') {
      const toGo = clamp(turnToGoRad(state, aim) / this.turnRad, 0, 1);
      this.goal.targetMps = targetMps + (turnEntryMps - targetMps) * toGo;
    } else if (speedEased) {
      const toGo = clamp((this.heightM(state) - FLARE_HEIGHT_M) / this.easeM, 0, 1);
      this.goal.targetMps = alignMps + (straightMps - alignMps) * toGo;
    }
  }

  /** Speed held in the present phase (equivalent airspeed, m/s). */
  get targetMps(): number {
    const { targetMps, straightMps, alignMps } = this.technique;
    if (this.phase === 'straight') return straightMps;
    return this.phase === 'align' || this.phase === 'final' ? alignMps : targetMps;
  }

  /** Above 0 once the present phase is over; the delay is ended by the clock instead. */
  phaseEnd(state: Float64Array): number {
    switch (this.phase) {
      case 'delay':
      case 'flare':
        return -1;
      case 'turn': {
        const toGo = this.aim === null ? 0 : turnToGoRad(state, this.aim);
        const done = Math.max(TURN_DONE_RAD - toGo, this.alignValue(state, toGo));
        return Math.max(done, this.flareDue(state));
      }
      case 'straight':
        return Math.max(this.alignValue(state, 0), this.flareDue(state));
      case 'align':
        return Math.max(FINAL_OFF_M - Math.abs(state[Y] as number), this.flareDue(state));
      case 'final':
        return this.flareDue(state);
    }
  }

  /** Goes on to the phase that follows; `phaseEnd` has turned positive, or the delay is over. */
  advance(model: FlightModel, state: Float64Array): void {
    this.next(model, state);
    this.goal.targetMps = this.targetMps;
  }

  private next(model: FlightModel, state: Float64Array): void {
    if (this.phase === 'delay') {
      this.phase = this.aim === null ? 'final' : 'turn';
      if (this.aim !== null) this.turnRad = Math.max(turnToGoRad(state, this.aim), TURN_DONE_RAD);
      this.planGlide(model);
      return;
    }
    if (this.flareDue(state) >= 0) {
      this.phase = 'flare';
      this.flareSlopePerS = flareSlopePerS(this.sinkMps(state), this.heightM(state));
      return;
    }
    if (this.phase === 'align') this.phase = 'final';
    else if (this.phase === 'straight') this.phase = 'align';
    else if (this.phase === 'turn') {
      const toGo = this.aim === null ? 0 : turnToGoRad(state, this.aim);
      this.phase = this.alignValue(state, toGo) >= 0 ? 'align' : 'straight';
      this.easeM = Math.max(this.heightM(state) - FLARE_HEIGHT_M, 1);
    }
  }

  /** Height above the ground below (m). */
  heightM(state: Float64Array): number {
    return (state[H] as number) - groundM(this.strip, state[X] as number);
  }

  /** Sink towards the ground below, its slope counted (m/s). */
  private sinkMps(state: Float64Array): number {
    return groundSlope(this.strip, state[X] as number) * (state[VX] as number) - (state[VH] as number);
  }

  /** Height over the power-off glide line to the touchdown point meant (m); what is left to lose when positive. */
  spareHeightM(state: Float64Array): number {
    const distance = Math.hypot((state[X] as number) - this.touchdownM, state[Y] as number);
    return (state[H] as number) - groundM(this.strip, this.touchdownM) - distance * this.glideSlope;
  }

  /**
   * Above 0 once a still running engine is closed: at once when landing ahead, on a return as soon as the glide
   * reaches without it, the rest of the turn counted.
   */
  throttleDue(state: Float64Array): number {
    if (this.phase === 'delay') return -1;
    if (this.aim === null) return 1;
    const toGo = this.phase === 'turn' ? Math.max(turnToGoRad(state, this.aim), 0) : 0;
    return this.spareHeightM(state) - toGo * this.turnLossM - SPARE_HEIGHT_M;
  }

  /** Sets the bank asked in the present phase, once the delay is over. */
  steer(model: FlightModel, state: Float64Array): void {
    const { aim, phase } = this;
    if (aim !== null && (phase === 'turn' || phase === 'straight')) steerToAim(model, state, aim, phase === 'straight');
    else steerToCentreline(model, state, this.capture);
    this.limitBank(model, state);
  }

  /** Keeps the bank asked within the technique's, the stall margin and what is left of it near the ground. */
  private limitBank(model: FlightModel, state: Float64Array): void {
    const { technique } = this;
    const kept = technique.bankKept && this.phase === 'turn';
    // Fast enough for its bank the aeroplane has it, and no inverse cosine is needed.
    const enough = kept || model.loadFactorMost * this.cosBank >= technique.stallMargin * technique.stallMargin;
    let limit = enough ? technique.bankRad : bankAvailableRad(model, technique.stallMargin);
    if (this.heightM(state) < LEVELLING_HEIGHT_M) limit = bankLimitNearGroundRad(this.heightM(state), limit);
    model.bankCommandRad = clamp(model.bankCommandRad, -limit, limit);
  }

  /** Power-off glide at the target speed: straight, configured for landing, no slip; and turning, as configured now. */
  private planGlide(model: FlightModel): void {
    const { gearDown, flapDown } = model;
    const { targetMps, bankRad, gearDownM, flapDownM } = this.technique;
    const tasMps = trueFromCalibrated(targetMps, model.densityKgM3);
    const turnPath = steadyPathRad(model, tasMps, bankRad, HIGH_M, 0);
    this.turnLossM = (-Math.sin(turnPath) * tasMps * tasMps) / (GRAVITY_MPS2 * Math.tan(bankRad));
    model.gearDown = gearDown || gearDownM !== null;
    model.flapDown = flapDown || flapDownM !== null;
    this.glideSlope = Math.tan(-steadyPathRad(model, tasMps, 0, HIGH_M, 0));
    model.gearDown = gearDown;
    model.flapDown = flapDown;
  }

  /** Drag coefficient of the sideslip flown in the present phase. */
  slipDrag(state: Float64Array): number {
    if (this.technique.slipDrag === 0 || this.phase === 'turn' || this.phase === 'flare') return 0;
    if (this.heightM(state) < SLIP_ENDS_BELOW_M) return 0;
    const share = this.spareHeightM(state) / SPARE_HEIGHT_M;
    return this.technique.slipDrag * (share < 0 ? 0 : Math.min(share, 1));
  }

  private alignValue(state: Float64Array, turnToGo: number): number {
    return turnToGo > ALIGN_TURN_TO_GO_RAD ? -1 : alignDue(state, this.capture);
  }

  private flareDue(state: Float64Array): number {
    return FLARE_HEIGHT_M - this.heightM(state);
  }
}
