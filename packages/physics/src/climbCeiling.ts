// How high the modelled climb goes: above that there is no failure to plan for.
import { deriveAeroplane } from './aeroplane.js';
import { dayAir } from './atmosphere.js';
import { LEAST_CLIMB_SINE, steadyClimb } from './departure.js';
import type { FlyRequest } from './request.js';
import { M_PER_FT, MPS_PER_KT } from './units.js';

const STEP_FT = 50;

/**
 * Highest multiple of 50 ft above the runway, up to `toFt`, to which the aeroplane climbs at `technique.climbKcas` in
 * today's air; 0 where it does not climb from 50 ft. The wind is not asked. The request must have passed `checkFlyRequest`.
 */
export function highestClimbFt(request: FlyRequest, toFt: number): number {
  const plane = deriveAeroplane(request.aircraft);
  const air = dayAir(request.weather, request.runway.elevationFt);
  const climbMps = request.technique.climbKcas * MPS_PER_KT;
  let highestFt = 0;
  for (let heightFt = STEP_FT; heightFt <= toFt; heightFt += STEP_FT) {
    if (!(steadyClimb(plane, air, climbMps, heightFt * M_PER_FT).sinPath > LEAST_CLIMB_SINE)) break;
    highestFt = heightFt;
  }
  return highestFt;
}

/** Whether the modelled climb reaches a height (ft above the runway). */
export function climbsTo(request: FlyRequest, heightFt: number): boolean {
  return highestClimbFt(request, Math.ceil(heightFt / STEP_FT) * STEP_FT) >= heightFt;
}
