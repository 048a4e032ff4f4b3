// Distance to stop after a touchdown, from the handbook's landing roll.
import type { Aeroplane } from './aeroplane.js';
import { trueFromCalibrated } from './atmosphere.js';
import type { Surface } from './request.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';

/** Landing roll against dry paving. UK CAA Safety Sense Leaflet 7, landing factors by surface. */
export const SURFACE_FACTOR: { readonly [surface in Surface]: number } = {
  paved: 1,
  'dry-grass': 1.15,
  'wet-paved': 1.15,
  'wet-grass': 1.35,
};
/** Touchdown speed that a handbook landing roll belongs to, in landing stall speeds (Gudmundsson; from memory). */
export const REFERENCE_TOUCHDOWN_STALLS = 1.1;

/** Groundspeed of the handbook landing: still air, sea level (m/s). */
export function referenceTouchdownMps(plane: Pick<Aeroplane, 'stallLandingMps'>): number {
  return trueFromCalibrated(REFERENCE_TOUCHDOWN_STALLS * plane.stallLandingMps, SEA_LEVEL_DENSITY_KG_M3);
}

/**
 * Roll to a stop (m): the handbook figure times (touchdown groundspeed / reference groundspeed)² times the surface
 * factor times the slope factor. Wind, elevation and temperature count through the groundspeed.
 *
 * @see FAA-H-8083-25C ch. 11: landing distance goes with the square of the groundspeed.
 */
export function groundRollM(
  landingRollM: number,
  groundspeedMps: number,
  referenceMps: number,
  surface: Surface,
  downhillPercent = 0,
): number {
  const ratio = groundspeedMps / referenceMps;
  return landingRollM * ratio * ratio * SURFACE_FACTOR[surface] * landingSlopeFactor(downhillPercent);
}

/**
 * Landing roll on a slope against a level one: a tenth more for each 2 % downhill; an uphill landing is given no credit.
 *
 * @see UK CAA Safety Sense Leaflet 7, landing.
 */
export function landingSlopeFactor(downhillPercent: number): number {
  return 1 + 0.05 * Math.max(downhillPercent, 0);
}
