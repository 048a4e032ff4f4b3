// The path through the air that recorded numbers tell of: true airspeed in the day's air, path angle, level speed, load factor.
import { type DayAir, trueFromCalibrated } from './atmosphere.js';
import { GRAVITY_MPS2, MPS_PER_KT } from './units.js';

/** Slower than this a path through the air has no angle to speak of (m/s). */
const LEAST_TAS_MPS = 1 * MPS_PER_KT;
/** Banks nearer the vertical than this say nothing about the load factor of a level path. */
const LEAST_COS_BANK = 0.1;

/** True airspeed, in the unit of the calibrated one, at a height above the runway (m) in the day's air. */
export function trueAirspeedAt(air: DayAir, calibrated: number, heightM: number): number {
  return trueFromCalibrated(calibrated, air.densityKgM3(heightM));
}

/** Angle of the path through the air (rad, climb positive) from the rate of climb and the true airspeed (m/s). */
export function pathAngleRad(climbMps: number, tasMps: number): number {
  const sine = climbMps / Math.max(tasMps, LEAST_TAS_MPS);
  return Math.asin(Math.max(-1, Math.min(1, sine)));
}

/** Part of the true airspeed that lies in the level (m/s); 0 where the climb is said to be faster than the airspeed. */
export function levelAirspeedMps(tasMps: number, climbMps: number): number {
  return Math.sqrt(Math.max(tasMps * tasMps - climbMps * climbMps, 0));
}

/**
 * Load factor (lift over weight) that a path asks for: n = (cosγ + V·γ̇/g)/cosφ, the equation of motion across the path
 * in the vertical plane. A bank beyond some 84° counts as 84°.
 *
 * @param pathRateRadS γ̇, as well as it is known.
 */
export function loadFactorOfPath(pathRad: number, pathRateRadS: number, tasMps: number, bankRad: number): number {
  const pull = (tasMps * pathRateRadS) / GRAVITY_MPS2;
  return (Math.cos(pathRad) + pull) / Math.max(Math.cos(bankRad), LEAST_COS_BANK);
}
