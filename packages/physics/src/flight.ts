// Equations of motion of a point-mass aeroplane with bank, lift and power lags, integrated by RK4.
import { type Aeroplane, DEAD_POWER, fullThrustN } from './aeroplane.js';
import { type DayAir, densityPower } from './atmosphere.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import * as indices from './state.js';
import * as units from './units.js';
import { WIND_HEIGHT, WIND_SIZE, type WindProfile } from './wind.js';

// A binding that is imported is loaded anew at each use; a constant of this file is folded into the code.
const { BANK, H, LIFT, POWER, STATE_SIZE, VH, VX, VY, X, Y } = indices;
const { GRAVITY_MPS2 } = units;

/** Time constants with which the aeroplane follows its commands (s). */
export const POWER_LAG_S = 0.5;
export const LIFT_LAG_S = 0.4;
export const BANK_LAG_S = 0.3;

/** Lift lost, drag gained and rate of roll-off for each unit of lift asked beyond the largest; common practice, no source. */
const STALL_LIFT_LOSS = 1.2;
const STALL_LIFT_FLOOR = 0.55;
const STALL_DRAG = 0.6;
const STALL_ROLL_RAD_S = 2.5;
/** No wing is asked for more than this multiple of its largest lift. */
export const LIFT_DEMAND_LIMIT = 1.6;

/** Sets the commands of a model from its air data; called at every evaluation of the derivatives. Must not allocate. */
export type ControlLaw = (model: FlightModel, state: Float64Array) => void;

/**
 * One aeroplane in one day's air. `observe` fills the air data for a state, `step` integrates. A step makes no
 * object; a number on its way between functions may still be put in a box where the compiler does not fold the call
 * (8 to 20 bytes a step were measured, `derivatives.bench.ts`). Commands and configuration are plain fields that a
 * control law or a caller sets.
 */
export class FlightModel {
  // Commands.
  bankCommandRad = 0;
  liftCommand = 0;
  /** True: the lift coefficient stays as it is, whatever the command. */
  liftHeld = false;
  powerTarget = 0;
  rollRateLimitRadS = Math.PI / 6;
  // Configuration.
  gearDown = false;
  flapDown = false;
  /** Drag added by a dead propeller; fades in as the power goes. */
  propellerDrag = 0;
  /** Drag added by a sideslip. */
  slipDrag = 0;
  // Gust on top of the mean wind (m/s).
  gustX = 0;
  gustY = 0;
  gustH = 0;
  /** False: the ground is felt at no height, for what is asked of a turn rather than of a landing. */
  groundEffect = true;
  // Air data of the state last observed.
  densityKgM3 = SEA_LEVEL_DENSITY_KG_M3;
  /** Air-relative velocity: along, across, up, its size and horizontal part (m/s). */
  airX = 0;
  airY = 0;
  airH = 0;
  tasMps = 0;
  airHorizontalMps = 0;
  /** Sine and cosine of the air-relative path angle. */
  sinPath = 0;
  cosPath = 1;
  cosBank = 1;
  sinBank = 0;
  /** ½ρV²S (N). */
  pressureAreaN = 0;
  /** Load factor at the largest lift: (V/Vs1)². */
  loadFactorMost = 1;
  /** CD0 and K of the present configuration, power and height. */
  zeroLiftNow = 0;
  inducedNow = 0;
  /** Largest lift coefficient in the present configuration. */
  liftMax = 0;
  /** Lift coefficient the wing really gives: less than asked once stalled. */
  lift = 0;
  dragN = 0;
  thrustN = 0;

  private readonly windNow = new Float64Array(WIND_SIZE);
  private readonly first = new Float64Array(STATE_SIZE);
  private readonly slope = new Float64Array(STATE_SIZE);
  private readonly sum = new Float64Array(STATE_SIZE);
  private readonly stage = new Float64Array(STATE_SIZE);

  constructor(
    readonly plane: Aeroplane,
    readonly air: DayAir,
    readonly wind: WindProfile,
  ) {
    this.liftMax = plane.liftMaxClean;
  }

  /** Equivalent airspeed of the state last observed (m/s). */
  get equivalentMps(): number {
    return this.tasMps * Math.sqrt(this.densityKgM3 / SEA_LEVEL_DENSITY_KG_M3);
  }

  /** Lift over weight. */
  get loadFactor(): number {
    return (this.pressureAreaN * this.lift) / this.plane.weightN;
  }

  /** Equivalent stall speed of the present configuration, one g (m/s). */
  get stallMps(): number {
    return this.flapDown ? this.plane.stallLandingMps : this.plane.stallCleanMps;
  }

  /** Sets the drag of a sideslip, for the state last observed too. */
  slipTo(coefficient: number): void {
    const more = coefficient - this.slipDrag;
    if (more === 0) return;
    this.slipDrag = coefficient;
    this.zeroLiftNow += more;
    this.dragN += this.pressureAreaN * more;
  }

  /** Zero-lift drag coefficient of the present configuration with a share of the power (0 to 1). */
  zeroLiftDrag(power: number): number {
    const plane = this.plane;
    const propeller = this.propellerDrag * (1 - power);
    return (
      plane.dragZeroLift +
      propeller +
      this.slipDrag +
      (this.gearDown ? plane.gearDrag : 0) +
      (this.flapDown ? plane.flapDrag : 0)
    );
  }

  /** K·g(h): the induced-drag factor at a height of the wheels above the ground (m). */
  inducedFactor(heightM: number): number {
    const plane = this.plane;
    if (!this.groundEffect) return plane.inducedFactor;
    const ratio = (16 * (Math.max(heightM, 0) + plane.wingHeightM)) / plane.wingSpanM;
    const square = ratio * ratio;
    return (plane.inducedFactor * square) / (1 + square);
  }

  /** Fills the air data and forces for a state. */
  observe(state: Float64Array): void {
    const plane = this.plane;
    const heightM = state[H] as number;
    const wind = this.windNow;
    wind[WIND_HEIGHT] = heightM;
    this.wind.sampleAt(wind);
    const airX = (state[VX] as number) - (wind[0] as number) - this.gustX;
    const airY = (state[VY] as number) - (wind[1] as number) - this.gustY;
    const airH = (state[VH] as number) - this.gustH;
    const horizontal = Math.max(Math.sqrt(airX * airX + airY * airY), 1e-6);
    const tas = Math.sqrt(horizontal * horizontal + airH * airH);
    this.airX = airX;
    this.airY = airY;
    this.airH = airH;
    this.airHorizontalMps = horizontal;
    this.tasMps = tas;
    this.sinPath = airH / tas;
    this.cosPath = horizontal / tas;
    this.densityKgM3 = this.air.surfaceDensityKgM3 * densityPower(this.air.lapsePerM * heightM);
    const pressureAreaN = 0.5 * this.densityKgM3 * tas * tas * plane.wingAreaM2;
    this.pressureAreaN = pressureAreaN;
    const bank = state[BANK] as number;
    this.cosBank = Math.cos(bank);
    this.sinBank = Math.sin(bank);
    this.liftMax = this.flapDown ? plane.liftMaxLanding : plane.liftMaxClean;
    this.loadFactorMost = (pressureAreaN * this.liftMax) / plane.weightN;
    const asked = state[LIFT] as number;
    const excess = asked - this.liftMax;
    const power = state[POWER] as number;
    const zeroLift = this.zeroLiftDrag(power);
    const induced = this.inducedFactor(heightM);
    this.zeroLiftNow = zeroLift;
    this.inducedNow = induced;
    let drag = zeroLift;
    let lift = asked;
    if (excess > 0) {
      lift = Math.max(this.liftMax - STALL_LIFT_LOSS * excess, STALL_LIFT_FLOOR * this.liftMax);
      drag += STALL_DRAG * excess;
    }
    this.lift = lift;
    this.dragN = pressureAreaN * (drag + induced * lift * lift);
    this.thrustN = power > DEAD_POWER ? power * fullThrustN(plane.thrust, tas, this.densityKgM3) : 0;
  }

  /** Advances a state in place by one RK4 step; `law` sets the commands at each of its four evaluations. */
  step(state: Float64Array, dtS: number, law: ControlLaw): void {
    this.begin(state, law);
    this.finish(state, dtS, law);
  }

  /** The first of the four evaluations of a step; {@link finish} does the others, for as many lengths as one likes. */
  begin(state: Float64Array, law: ControlLaw): void {
    this.derivatives(state, this.first, law);
  }

  /**
   * How far the last evaluation of a step and the first of the next, both at the same time, lie apart (m/s²): times the
   * step and a sixth, the error of a third-order formula in it (Dormand and Prince, 1980, "first same as last").
   */
  get gapMps2(): number {
    const { first, slope } = this;
    let most = 0;
    for (let i = VX; i <= LIFT; i++) {
      const gap = Math.abs((first[i] as number) - (slope[i] as number));
      const weighed = i >= BANK ? gap * 5 : gap;
      if (weighed > most) most = weighed;
    }
    return most;
  }

  /** Vertical acceleration where a step was begun (m/s², up). */
  get climbMps2(): number {
    return this.first[VH] as number;
  }

  /** The step that was begun at a state, of a length, in place. */
  finish(state: Float64Array, dtS: number, law: ControlLaw): void {
    const { first, slope, sum, stage } = this;
    for (let i = 0; i < STATE_SIZE; i++) {
      const rate = first[i] as number;
      sum[i] = rate;
      stage[i] = (state[i] as number) + (dtS / 2) * rate;
    }
    for (let middle = 0; middle < 2; middle++) {
      const aheadS = middle === 0 ? dtS / 2 : dtS;
      this.derivatives(stage, slope, law);
      for (let i = 0; i < STATE_SIZE; i++) {
        const rate = slope[i] as number;
        sum[i] = (sum[i] as number) + 2 * rate;
        stage[i] = (state[i] as number) + aheadS * rate;
      }
    }
    this.derivatives(stage, slope, law);
    const sixth = dtS / 6;
    for (let i = 0; i < STATE_SIZE; i++)
      state[i] = (state[i] as number) + sixth * ((sum[i] as number) + (slope[i] as number));
  }

  /** Writes the rate of change of a state into `out`; `law` is asked for the commands first. */
  derivatives(state: Float64Array, out: Float64Array, law: ControlLaw): void {
    this.observe(state);
    law(this, state);
    const massKg = this.plane.massKg;
    const bank = state[BANK] as number;
    const { airX, airY, airH, airHorizontalMps } = this;
    const liftMps2 = (this.pressureAreaN * this.lift) / massKg;
    const vertical = liftMps2 * this.cosBank;
    const alongAir = (this.thrustN - this.dragN) / (massKg * this.tasMps);
    // Lift is perpendicular to the air-relative velocity: part in the vertical plane, part to the right of the heading.
    const tilt = (vertical * this.sinPath) / airHorizontalMps;
    const right = (liftMps2 * this.sinBank) / airHorizontalMps;
    out[X] = state[VX] as number;
    out[Y] = state[VY] as number;
    out[H] = state[VH] as number;
    out[VX] = alongAir * airX - tilt * airX - right * airY;
    out[VY] = alongAir * airY - tilt * airY + right * airX;
    out[VH] = alongAir * airH + vertical * this.cosPath - GRAVITY_MPS2;
    const limit = this.rollRateLimitRadS;
    const rollRate = (this.bankCommandRad - bank) / BANK_LAG_S;
    out[BANK] = rollRate > limit ? limit : Math.max(rollRate, -limit);
    const excess = (state[LIFT] as number) - this.liftMax;
    // A stalled wing drops: the lower one goes on down, the left one from wings level.
    if (excess > 0) out[BANK] += STALL_ROLL_RAD_S * excess * (bank > 0.02 ? 1 : -1);
    out[LIFT] = this.liftHeld ? 0 : (this.liftCommand - (state[LIFT] as number)) / LIFT_LAG_S;
    out[POWER] = (this.powerTarget - (state[POWER] as number)) / POWER_LAG_S;
  }
}
