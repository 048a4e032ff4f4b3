// Rolling on the wheels: take-off run that ends in the handbook distance, and a braked roll that ends in the handbook roll.
import type { FlightModel } from './flight.js';
import { SURFACE_FACTOR } from './groundRoll.js';
import type { Surface } from './request.js';
import { BANK, H, VH, VX, VY, X, Y } from './state.js';
import { clamp, GRAVITY_MPS2, RAD_PER_DEG, wrapRad } from './units.js';

/** Rolling friction unbraked on paving (Raymer, Aircraft Design, take-off table; from memory). */
const ROLLING_FRICTION = 0.04;
/** Friction of an aeroplane on its belly; common practice, no source. */
const BELLY_FRICTION = 0.4;
/** Lift coefficient of the rolling attitude, before the nose is raised and after it has come down. */
export const ROLLING_LIFT = 0.3;
/** How the pilot steers on the wheels: along the runway and back to its centreline. */
const STEER_PER_S = 1;
const STEER_LIMIT_RAD_S = 8 * RAD_PER_DEG;
const LINE_ANGLE_PER_M = 0.01;
const LINE_ANGLE_LIMIT_RAD = 6 * RAD_PER_DEG;
const BANK_SETTLES_PER_S = 3;

/** What the wheels meet. */
export interface GroundConditions {
  /** Deceleration of a braked landing roll (m/s²), everything counted: {@link brakedDecelerationMps2}. */
  readonly brakedMps2: number;
  /** Resistance of the take-off run beyond drag (m/s²), fitted to the handbook distance. */
  readonly takeoffResistanceMps2: number;
  readonly surface: Surface;
}

/**
 * Constant deceleration that stops from any groundspeed in the distance of `groundRollM`: that distance grows
 * with the square of the speed.
 */
export function brakedDecelerationMps2(landingRollM: number, referenceMps: number, surface: Surface): number {
  return (referenceMps * referenceMps) / (2 * landingRollM * SURFACE_FACTOR[surface]);
}

/**
 * Advances an aeroplane on its wheels by one step; the model must have observed the state.
 *
 * @param brake 0 to 1.
 * @param takingOff True on the take-off run: the fitted resistance counts; else rolling friction and brakes.
 * @param gearDown False: on its belly.
 */
export function rollStep(
  model: FlightModel,
  state: Float64Array,
  dtS: number,
  ground: GroundConditions,
  brake: number,
  takingOff: boolean,
  gearDown: boolean,
): void {
  const speed = Math.hypot(state[VX] as number, state[VY] as number);
  const massKg = model.plane.massKg;
  const weightOnWheels = Math.max(1 - model.loadFactor, 0);
  const coasting =
    ROLLING_FRICTION * SURFACE_FACTOR[ground.surface] * GRAVITY_MPS2 * weightOnWheels + model.dragN / massKg;
  const thrust = model.thrustN / massKg;
  const resistance = takingOff
    ? ground.takeoffResistanceMps2 + model.dragN / massKg
    : coasting + clamp(brake, 0, 1) * Math.max(ground.brakedMps2 - coasting, 0);
  const slowing = gearDown ? resistance : Math.max(resistance, BELLY_FRICTION * GRAVITY_MPS2);
  const next = Math.max(speed + dtS * (thrust - slowing), 0);
  const track = steeredTrack(state, speed, dtS);
  const mean = (speed + next) / 2;
  state[X] = (state[X] as number) + dtS * mean * Math.cos(track);
  state[Y] = (state[Y] as number) + dtS * mean * Math.sin(track);
  state[H] = 0;
  state[VX] = next * Math.cos(track);
  state[VY] = next * Math.sin(track);
  state[VH] = 0;
  state[BANK] = (state[BANK] as number) * Math.max(1 - BANK_SETTLES_PER_S * dtS, 0);
}

/** Ground track after a step of steering along the runway, whichever way it is rolled along. */
function steeredTrack(state: Float64Array, speed: number, dtS: number): number {
  if (speed < 0.1) return Math.abs(Math.atan2(state[VY] as number, state[VX] as number)) > Math.PI / 2 ? Math.PI : 0;
  const track = Math.atan2(state[VY] as number, state[VX] as number);
  const forward = Math.abs(track) <= Math.PI / 2;
  const back = clamp(LINE_ANGLE_PER_M * (state[Y] as number), -LINE_ANGLE_LIMIT_RAD, LINE_ANGLE_LIMIT_RAD);
  const wanted = forward ? -back : Math.PI + back;
  const rate = clamp(STEER_PER_S * wrapRad(wanted - track), -STEER_LIMIT_RAD_S, STEER_LIMIT_RAD_S);
  return track + rate * dtS;
}
