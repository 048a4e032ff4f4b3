// Take-off and steady climb along the centreline: where the aeroplane is, and how fast, when the engine stops.
import { type Aeroplane, fullThrustN, groundEffectFactor } from './aeroplane.js';
import { type DayAir, trueFromCalibrated } from './atmosphere.js';
import { BANK, H, LIFT, POWER, STATE_SIZE, VH, VX, VY, X, Y } from './state.js';
import { M_PER_FT, MPS_PER_KT } from './units.js';
import type { WindProfile } from './wind.js';

/** Take-off distances of handbooks end here. */
export const SCREEN_HEIGHT_M = 50 * M_PER_FT;
const HEIGHT_STEP_M = 5;
/** Sine of the flattest climb that is still one. */
export const LEAST_CLIMB_SINE = 0.002;

/** A steady climb at one height. */
interface Climb {
  readonly tasMps: number;
  /** Sine of the air-relative climb angle. */
  readonly sinPath: number;
  readonly lift: number;
}

/**
 * Steady full-power climb at a calibrated speed, gear and flap up: lift W·cosγ, T - D = W·sinγ. The small
 * acceleration that a constant calibrated speed needs as the air thins is left out.
 *
 * @param climbMps Equivalent airspeed (m/s).
 * @param heightM Height above the runway (m).
 */
export function steadyClimb(plane: Aeroplane, air: DayAir, climbMps: number, heightM: number): Climb {
  const densityKgM3 = air.densityKgM3(heightM);
  const tasMps = trueFromCalibrated(climbMps, densityKgM3);
  const pressureAreaN = 0.5 * densityKgM3 * tasMps * tasMps * plane.wingAreaM2;
  const thrustN = fullThrustN(plane.thrust, tasMps, densityKgM3);
  const induced = plane.inducedFactor * groundEffectFactor(heightM + plane.wingHeightM, plane.wingSpanM);
  const level = plane.weightN / pressureAreaN;
  let sinPath = 0;
  for (let i = 0; i < 6; i++) {
    const dragN = pressureAreaN * (plane.dragZeroLift + induced * level * level * (1 - sinPath * sinPath));
    sinPath = Math.max(-0.5, Math.min(0.9, (thrustN - dragN) / plane.weightN));
  }
  return { tasMps, sinPath, lift: level * Math.sqrt(1 - sinPath * sinPath) };
}

/**
 * State at a height in the climb: distance from brake release is the take-off distance to 50 ft plus
 * ∫ (√(V²cos²γ - w_y²) + w_x)/(V·sinγ) dh, Simpson's rule, steps of at most 5 m. The aeroplane is crabbed so that it
 * tracks the centreline.
 *
 * @throws {RangeError} If it does not climb at this speed up to that height, or the wind keeps it from the centreline.
 */
export function departureState(
  plane: Aeroplane,
  air: DayAir,
  wind: WindProfile,
  takeoffTo50FtFt: number,
  climbKcas: number,
  heightM: number,
): Float64Array {
  const climbMps = climbKcas * MPS_PER_KT;
  const windNow = new Float64Array(2);
  const groundPerHeight = (h: number) => {
    const climb = steadyClimb(plane, air, climbMps, h);
    if (!(climb.sinPath > LEAST_CLIMB_SINE))
      throw new RangeError(
        `technique.climbKcas must be a speed at which the aeroplane climbs, got ${climbKcas} kt: no climb left at ${Math.round(h / M_PER_FT)} ft above the runway`,
      );
    return alongMps(climb, h) / (climb.tasMps * climb.sinPath);
  };
  const alongMps = (climb: Climb, h: number) => {
    wind.sample(h, windNow);
    const horizontal = climb.tasMps * Math.sqrt(1 - climb.sinPath * climb.sinPath);
    const crossMps = windNow[1] as number;
    const along = Math.sqrt(Math.max(horizontal * horizontal - crossMps * crossMps, 0)) + (windNow[0] as number);
    if (!(along > 1))
      throw new RangeError(
        `weather.winds must leave the aeroplane moving along the runway at technique.climbKcas, got ${Math.round(along / MPS_PER_KT)} kt over the ground at ${Math.round(h / M_PER_FT)} ft`,
      );
    return along;
  };
  const span = heightM - SCREEN_HEIGHT_M;
  const pairs = Math.max(1, Math.ceil(Math.abs(span) / (2 * HEIGHT_STEP_M)));
  const step = span / (2 * pairs);
  let sum = groundPerHeight(SCREEN_HEIGHT_M) + groundPerHeight(heightM);
  for (let i = 1; i < 2 * pairs; i++) sum += (i % 2 === 1 ? 4 : 2) * groundPerHeight(SCREEN_HEIGHT_M + i * step);
  const climb = steadyClimb(plane, air, climbMps, heightM);
  const state = new Float64Array(STATE_SIZE);
  state[X] = takeoffTo50FtFt * M_PER_FT + (step / 3) * sum;
  state[Y] = 0;
  state[H] = heightM;
  state[VX] = alongMps(climb, heightM);
  state[VY] = 0;
  state[VH] = climb.tasMps * climb.sinPath;
  state[BANK] = 0;
  state[LIFT] = climb.lift;
  state[POWER] = 1;
  return state;
}
