// Columns that follow from others: true airspeed, load factor of the path flown, stall speed at a load factor.
import type { Aircraft, Weather } from '@stillprop/contracts';
import {
  type DayAir,
  dayAir,
  loadFactorOfPath,
  M_PER_FT,
  MPS_PER_FPM,
  MPS_PER_KT,
  pathAngleRad,
  RAD_PER_DEG,
  trueAirspeedAt,
} from '@stillprop/physics';
import { fitLine } from './columns.js';

/** Half the span over which the rate of the flight path is taken (s). */
export const PATH_RATE_HALF_S = 0.4;
/** Load factors below this carry too little to speak of a stall speed. */
const LEAST_LOAD_FACTOR = 0.05;

/**
 * True airspeed (kt) from indicated, taken as calibrated, in the day's air.
 *
 * @returns null where the pressure altitude of the runway is outside the standard atmosphere that the physics knows.
 */
export function trueAirspeedKt(
  iasKt: Float64Array,
  aboveRunwayFt: Float64Array,
  weather: Weather,
  elevationFt: number,
): Float64Array | null {
  const air = airOf(weather, elevationFt);
  if (air === null) return null;
  return iasKt.map((ias, i) => trueAirspeedAt(air, ias, (aboveRunwayFt[i] as number) * M_PER_FT));
}

/** The day's air; null where it is outside the standard atmosphere that the physics knows. */
export function airOf(weather: Weather, elevationFt: number): DayAir | null {
  try {
    return dayAir(weather, elevationFt);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Path angle through the air (deg, climb positive) from vertical speed and true airspeed. */
export function pathAngleDeg(verticalSpeedFpm: number, tasKt: number): number {
  return pathAngleRad(verticalSpeedFpm * MPS_PER_FPM, tasKt * MPS_PER_KT) / RAD_PER_DEG;
}

/**
 * Load factor (lift over weight) that the path flown asks for (`loadFactorOfPath`), its rate taken over ±0.4 s. An estimate: it misses pulls that
 * are shorter than that. The span is cut where the ground is met or left, for what the wheels do to the vertical speed
 * is no lift; on the ground the load factor is 1.
 *
 * @param onGround 1 for each sample on the ground, 0 in the air.
 */
export function loadFactorFromPath(
  timeS: Float64Array,
  tasKt: Float64Array,
  verticalSpeedFpm: Float64Array,
  bankDeg: Float64Array,
  onGround: Uint8Array,
): Float64Array {
  const pathDeg = timeS.map((_, i) => pathAngleDeg(verticalSpeedFpm[i] as number, tasKt[i] as number));
  return timeS.map((atS, i) => {
    if (onGround[i] === 1) return 1;
    let fromS = atS;
    let toS = atS;
    for (let j = i; j >= 0 && onGround[j] === 0 && atS - (timeS[j] as number) <= PATH_RATE_HALF_S; j--)
      fromS = timeS[j] as number;
    for (let j = i; j < timeS.length && onGround[j] === 0 && (timeS[j] as number) - atS <= PATH_RATE_HALF_S; j++)
      toS = timeS[j] as number;
    const rateDegS = fitLine(timeS, pathDeg, fromS, toS)?.slopePerS ?? 0;
    return loadFactorOfPath(
      (pathDeg[i] as number) * RAD_PER_DEG,
      rateDegS * RAD_PER_DEG,
      (tasKt[i] as number) * MPS_PER_KT,
      (bankDeg[i] as number) * RAD_PER_DEG,
    );
  });
}

/**
 * Stall speed at each load factor (kt): Vs·√(mass/reference mass)·√n, between the clean and the landing figure as
 * the flap stands; the clean one when flap is not recorded.
 */
export function stallSpeedKt(
  aircraft: Aircraft,
  loadFactor: Float64Array,
  flapFraction: Float64Array | null,
): Float64Array {
  const massScale = Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  return loadFactor.map((n, i) => {
    if (n < LEAST_LOAD_FACTOR) return Number.NaN;
    const flap = flapFraction?.[i] ?? 0;
    const stall = aircraft.stallCleanKcas + flap * (aircraft.stallLandingKcas - aircraft.stallCleanKcas);
    return stall * massScale * Math.sqrt(n);
  });
}
