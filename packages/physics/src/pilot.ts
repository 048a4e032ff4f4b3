// Pitch laws of the modelled pilot: push to a speed, bank that yields to stall margin, flare.
import { fullThrustN } from './aeroplane.js';
import type { FlightModel } from './flight.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import { BANK, H, POWER, VH } from './state.js';
import { clamp, GRAVITY_MPS2, RAD_PER_DEG } from './units.js';

const SPEED_GAIN = 1.2;
const PATH_GAIN_PER_S = 0.9;
/** Beyond some 84° of bank no pull holds the nose up: the cosine is held there. */
const LEAST_COS = 0.1;
const PATH_LOW_RAD = -35 * RAD_PER_DEG;
const PATH_HIGH_RAD = 10 * RAD_PER_DEG;

/** Height at which the flare begins (m). */
export const FLARE_HEIGHT_M = 7;
/** Sink the flare aims to end with (m/s), about 120 ft/min; common practice, no source. */
const FLARE_END_SINK_MPS = 0.6;
const FLARE_GAIN_PER_S = 1.5;

/**
 * Steady air-relative path angle (rad, down negative) at a speed and the present bank, configuration and power:
 * lift carries W·cosγ/cosφ, drag less thrust is carried by W·sinγ.
 */
export function steadyPathRad(
  model: FlightModel,
  tasMps: number,
  bankRad: number,
  heightM: number,
  power: number,
): number {
  const thrustN = power > 1e-4 ? power * fullThrustN(model.plane.thrust, tasMps, model.densityKgM3) : 0;
  return balancedPathRad(
    model,
    0.5 * model.densityKgM3 * tasMps * tasMps * model.plane.wingAreaM2,
    Math.cos(bankRad),
    model.zeroLiftDrag(power),
    model.inducedFactor(heightM),
    thrustN,
  );
}

/** The steady path for ½ρV²S (N), the cosine of the bank, CD0, K and thrust (N). */
function balancedPathRad(
  model: FlightModel,
  pressureAreaN: number,
  cosBank: number,
  zeroLift: number,
  induced: number,
  thrustN: number,
): number {
  const weightN = model.plane.weightN;
  const lift = weightN / (pressureAreaN * Math.max(cosBank, LEAST_COS));
  const along = (thrustN - pressureAreaN * zeroLift) / weightN;
  const inducedShare = (pressureAreaN * induced * lift * lift) / weightN;
  let sin = 0;
  // cos²γ enters the induced drag alone: three rounds leave less than 1e-5 rad.
  for (let i = 0; i < 3; i++) sin = clamp(along - inducedShare * (1 - sin * sin), -0.9, 0.9);
  return Math.asin(sin);
}

/**
 * Lift coefficient that takes the aeroplane to a target speed: the path angle asked is the steady one at the target
 * less a share of the speed missing, the rate of change of path is a share of what is missing, the load factor does it.
 *
 * @param targetMps Equivalent airspeed (m/s).
 * @param margin Stall margin flown: lift stays at or below the largest over margin².
 * @param pathLowRad Steepest descent the pilot will ask for; after a take-off a climb instead.
 */
export function pushLiftCommand(
  model: FlightModel,
  state: Float64Array,
  targetMps: number,
  margin: number,
  minimumLoadFactor: number,
  pathLowRad = PATH_LOW_RAD,
): number {
  pushTowards(model, state, { targetMps, margin, minimumLoadFactor, pathLowRad });
  return model.liftCommand;
}

/** What a push goes for; kept from one evaluation to the next, since a number handed over is a number allocated. */
export interface PushGoal {
  targetMps: number;
  readonly margin: number;
  readonly minimumLoadFactor: number;
  readonly pathLowRad: number;
}

/** The goal of a technique; `targetMps` is set for each phase. */
export function pushGoal(margin: number, minimumLoadFactor: number): PushGoal {
  return { targetMps: 0, margin, minimumLoadFactor, pathLowRad: PATH_LOW_RAD };
}

/** {@link pushLiftCommand} for a goal, set as the model's command rather than handed back in a box. */
export function pushTowards(model: FlightModel, state: Float64Array, goal: PushGoal): void {
  const { plane, cosBank } = model;
  const { targetMps, margin } = goal;
  const targetTas = targetMps * Math.sqrt(SEA_LEVEL_DENSITY_KG_M3 / model.densityKgM3);
  const path = Math.asin(model.sinPath);
  const power = state[POWER] as number;
  const thrustN = power > 1e-4 ? power * fullThrustN(plane.thrust, targetTas, model.densityKgM3) : 0;
  const pressureAreaN = 0.5 * SEA_LEVEL_DENSITY_KG_M3 * targetMps * targetMps * plane.wingAreaM2;
  const steady = balancedPathRad(model, pressureAreaN, cosBank, model.zeroLiftNow, model.inducedNow, thrustN);
  const wanted = clamp(steady - (SPEED_GAIN * (targetTas - model.tasMps)) / targetTas, goal.pathLowRad, PATH_HIGH_RAD);
  const pathRate = PATH_GAIN_PER_S * (wanted - path);
  const asked = (model.cosPath + (model.tasMps * pathRate) / GRAVITY_MPS2) / Math.max(cosBank, LEAST_COS);
  const loadFactor = Math.max(asked, goal.minimumLoadFactor);
  model.liftCommand = Math.min((loadFactor * plane.weightN) / model.pressureAreaN, model.liftMax / (margin * margin));
}

/** Lift coefficient for a load factor, not above the largest over margin². */
export function liftFor(model: FlightModel, loadFactor: number, margin: number): number {
  return Math.min((loadFactor * model.plane.weightN) / model.pressureAreaN, model.liftMax / (margin * margin));
}

/** Load factor that leaves the stall margin at the present speed: (V/(m·Vs1))². */
function loadAvailable(model: FlightModel, margin: number): number {
  return (model.pressureAreaN * model.liftMax) / (model.plane.weightN * margin * margin);
}

/** Largest bank (rad) that leaves the stall margin at one g vertical: acos(1/n), n = (V/(m·Vs1))². */
export function bankAvailableRad(model: FlightModel, margin: number): number {
  const available = loadAvailable(model, margin);
  return available <= 1 ? 0 : Math.acos(1 / available);
}

/**
 * A bank, or the largest that leaves the stall margin where that is less (rad).
 *
 * @param cosBank Cosine of the bank: fast enough, the aeroplane has it, and no inverse cosine is needed.
 */
export function bankWithinMarginRad(model: FlightModel, margin: number, bankRad: number, cosBank: number): number {
  const available = loadAvailable(model, margin);
  return available * cosBank >= 1 ? bankRad : available <= 1 ? 0 : Math.acos(1 / available);
}

/** Rate at which the sink is to fall with height in a flare entered at this sink (m/s) and height (m). */
export function flareSlopePerS(sinkMps: number, heightM: number): number {
  return Math.max((sinkMps - FLARE_END_SINK_MPS) / Math.max(heightM, 1), 0);
}

/**
 * Lift coefficient of the flare: the sink falls in proportion to the height left, to about 120 ft/min at contact.
 * It may use all the lift there is.
 *
 * @param slopePerS From {@link flareSlopePerS}, held through the flare.
 * @param aboveGroundM Height above the ground below; that above the runway when absent, as is
 * @param sinkMps the sink towards it.
 */
export function flareLiftCommand(
  model: FlightModel,
  state: Float64Array,
  slopePerS: number,
  aboveGroundM = state[H] as number,
  sinkMps = -(state[VH] as number),
): number {
  const wantedMps = FLARE_END_SINK_MPS + slopePerS * Math.max(aboveGroundM, 0);
  const slowing = slopePerS * sinkMps + FLARE_GAIN_PER_S * (sinkMps - wantedMps);
  return liftFor(model, (1 + slowing / GRAVITY_MPS2) / Math.max(Math.cos(state[BANK] as number), LEAST_COS), 1);
}
