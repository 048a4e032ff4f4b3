// Textbook closed forms: for readers, for planning aids, and for the tests that hold the equations of motion to them.
import { GRAVITY_MPS2 } from './units.js';

/** Rate of a level coordinated turn (rad/s): g·tanφ/V. @see FAA-H-8083-25C ch. 5. */
export function turnRateRadS(tasMps: number, bankRad: number): number {
  return (GRAVITY_MPS2 * Math.tan(bankRad)) / tasMps;
}

/** Radius of a level coordinated turn (m): V²/(g·tanφ). @see FAA-H-8083-25C ch. 5. */
export function turnRadiusM(tasMps: number, bankRad: number): number {
  return (tasMps * tasMps) / (GRAVITY_MPS2 * Math.tan(bankRad));
}

/** Load factor of a level turn: 1/cosφ. */
export function loadFactor(bankRad: number): number {
  return 1 / Math.cos(bankRad);
}

/** Factor on the stall speed at a load factor: √n. */
export function stallSpeedFactor(factor: number): number {
  return Math.sqrt(factor);
}

/** A wing's load and its parabolic polar, in one density. */
export interface GlideNumbers {
  readonly weightN: number;
  readonly wingAreaM2: number;
  readonly densityKgM3: number;
  readonly dragZeroLift: number;
  readonly inducedFactor: number;
}

/** Lift coefficient, glide ratio of the best glide: CL = √(CD0/K), E = 1/(2·√(CD0·K)). @see Anderson. */
export function bestGlide({ dragZeroLift, inducedFactor }: Pick<GlideNumbers, 'dragZeroLift' | 'inducedFactor'>) {
  return { lift: Math.sqrt(dragZeroLift / inducedFactor), ratio: 1 / (2 * Math.sqrt(dragZeroLift * inducedFactor)) };
}

/** Speed of least sink as a share of the best-glide speed: 3^(-1/4). @see Anderson. */
export const LEAST_SINK_SPEED_SHARE = 3 ** -0.25;

/**
 * Height lost per radian turned (m) in a steady gliding turn at constant CL, shallow path:
 * (4W/(ρ·g·S))·(CD/CL²)/sin2φ. Least at 45° for every polar; at constant *speed* the least lies steeper.
 *
 * @see Rogers, Journal of Aircraft 32(2), 1995.
 */
export function heightPerRadianShallowM(glide: GlideNumbers, lift: number, bankRad: number): number {
  const drag = glide.dragZeroLift + glide.inducedFactor * lift * lift;
  const scale = (4 * glide.weightN) / (glide.densityKgM3 * GRAVITY_MPS2 * glide.wingAreaM2);
  return (scale * drag) / (lift * lift) / Math.sin(2 * bankRad);
}

/** A steady gliding turn at constant CL, the path angle counted in full. */
export interface GlidingTurn {
  /** Path angle, down negative (rad). */
  readonly pathRad: number;
  readonly tasMps: number;
  readonly loadFactor: number;
  readonly rateRadS: number;
  /** Radius over the ground in still air (m). */
  readonly radiusM: number;
  readonly heightPerRadianM: number;
}

/**
 * Steady gliding turn at a lift coefficient and bank: tanγ = -(CD/CL)/cosφ, n = cosγ/cosφ, rate g·tanφ/V.
 */
export function glidingTurn(glide: GlideNumbers, lift: number, bankRad: number): GlidingTurn {
  const drag = glide.dragZeroLift + glide.inducedFactor * lift * lift;
  const pathRad = -Math.atan(drag / lift / Math.cos(bankRad));
  const factor = Math.cos(pathRad) / Math.cos(bankRad);
  const tasMps = Math.sqrt((2 * factor * glide.weightN) / (glide.densityKgM3 * glide.wingAreaM2 * lift));
  const rateRadS = turnRateRadS(tasMps, bankRad);
  return {
    pathRad,
    tasMps,
    loadFactor: factor,
    rateRadS,
    radiusM: (tasMps * Math.cos(pathRad)) / rateRadS,
    heightPerRadianM: (-tasMps * Math.sin(pathRad)) / rateRadS,
  };
}
