// Pitch laws of the modelled pilot: push to a speed, bank that yields to stall margin, flare.
import { DEAD_POWER, fullThrustN } from './aeroplane.js';
import type { FlightModel } from './flight.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import * as indices from './state.js';
import * as units from './units.js';
import { clamp, RAD_PER_DEG } from './units.js';

// A binding that is imported is loaded anew at each use; a constant of this file is folded into the code.
const { BANK, H, POWER, VH } = indices;
const { GRAVITY_MPS2 } = units;

const SPEED_GAIN = 1.2;
const PATH_GAIN_PER_S = 0.9;
/** Beyond some 84° of bank no pull holds the nose up: the cosine is held there. */
const LEAST_COS = 0.1;
/** A steady path is taken as no steeper than this, whatever the drag. */
const STEEPEST_SIN = 0.9;
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
  const thrustN = power > DEAD_POWER ? power * fullThrustN(model.plane.thrust, tasMps, model.densityKgM3) : 0;
  const weightN = model.plane.weightN;
  const pressureAreaN = 0.5 * model.densityKgM3 * tasMps * tasMps * model.plane.wingAreaM2;
  const lift = weightN / (pressureAreaN * Math.max(Math.cos(bankRad), LEAST_COS));
  const along = (thrustN - pressureAreaN * model.zeroLiftDrag(power)) / weightN;
  return Math.asin(steadySin(along, (pressureAreaN * model.inducedFactor(heightM) * lift * lift) / weightN));
}

/**
 * Sine of a steady path, that of sinγ = a - i·cos²γ, since lift carries W·cosγ: the root of i·sin²γ - sinγ + a - i = 0
 * that goes to a without induced drag.
 *
 * @param along a: thrust less zero-lift drag, as a share of the weight.
 * @param induced i: the induced drag of level flight, as a share of the weight.
 */
function steadySin(along: number, induced: number): number {
  const level = along - induced;
  const sin = (2 * level) / (1 + Math.sqrt(Math.max(1 - 4 * induced * level, 0)));
  return clamp(sin, -STEEPEST_SIN, STEEPEST_SIN);
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
  pushTowards(model, state, { ...pushGoal(margin, minimumLoadFactor), targetMps, pathLowRad });
  return model.liftCommand;
}

/** What a push goes for; kept from one evaluation to the next, since a number handed over is a number allocated. */
export interface PushGoal {
  targetMps: number;
  /** Share of the largest lift that may be asked: 1 over the square of the stall margin. */
  readonly liftShare: number;
  readonly minimumLoadFactor: number;
  readonly pathLowRad: number;
}

/** The goal of a technique; `targetMps` is set for each phase. */
export function pushGoal(margin: number, minimumLoadFactor: number): PushGoal {
  return {
    targetMps: 0,
    liftShare: 1 / (margin * margin),
    minimumLoadFactor,
    pathLowRad: PATH_LOW_RAD,
  };
}

/** {@link pushLiftCommand} for a goal, set as the model's command rather than handed back in a box. */
export function pushTowards(model: FlightModel, state: Float64Array, goal: PushGoal): void {
  const { plane, cosBank } = model;
  const { targetMps } = goal;
  const weightN = plane.weightN;
  const targetTas = targetMps * Math.sqrt(SEA_LEVEL_DENSITY_KG_M3 / model.densityKgM3);
  const path = Math.asin(model.sinPath);
  const power = state[POWER] as number;
  const thrustN = power > DEAD_POWER ? power * fullThrustN(plane.thrust, targetTas, model.densityKgM3) : 0;
  const pressureAreaN = 0.5 * SEA_LEVEL_DENSITY_KG_M3 * targetMps * targetMps * plane.wingAreaM2;
  const bankedCos = Math.max(cosBank, LEAST_COS);
  const lift = weightN / (pressureAreaN * bankedCos);
  const along = (thrustN - pressureAreaN * model.zeroLiftNow) / weightN;
  const steadyRad = Math.asin(steadySin(along, (pressureAreaN * model.inducedNow * lift * lift) / weightN));
  const wanted = clamp(
    steadyRad - (SPEED_GAIN * (targetTas - model.tasMps)) / targetTas,
    goal.pathLowRad,
    PATH_HIGH_RAD,
  );
  const pathRate = PATH_GAIN_PER_S * (wanted - path);
  const asked = (model.cosPath + (model.tasMps * pathRate) / GRAVITY_MPS2) / bankedCos;
  const loadFactor = Math.max(asked, goal.minimumLoadFactor);
  model.liftCommand = Math.min((loadFactor * weightN) / model.pressureAreaN, model.liftMax * goal.liftShare);
}

/** Lift coefficient for a load factor, not above the largest over margin². */
export function liftFor(model: FlightModel, loadFactor: number, margin: number): number {
  return Math.min((loadFactor * model.plane.weightN) / model.pressureAreaN, model.liftMax / (margin * margin));
}

/** Largest bank (rad) that leaves the stall margin at one g vertical: acos(1/n), n = (V/(m·Vs1))². */
export function bankAvailableRad(model: FlightModel, margin: number): number {
  const available = model.loadFactorMost / (margin * margin);
  return available <= 1 ? 0 : Math.acos(1 / available);
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
