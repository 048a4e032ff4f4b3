// Height as the exercise counts it, energy height, and short distances.
import type { Sample } from '@stillprop/contracts';
import { GRAVITY_MPS2, M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from '@stillprop/physics';
import type { ExerciseSetup, ExerciseState, HeightSource } from './states.js';

export const FT_PER_NM = (MPS_PER_KT * 3600) / M_PER_FT;
const FPS_PER_KT = MPS_PER_KT / M_PER_FT;
const GRAVITY_FPS2 = GRAVITY_MPS2 / M_PER_FT;
const MEAN_EARTH_RADIUS_FT = 6_371_008.8 / M_PER_FT; // IUGG mean radius R1; within 0.5 % of the ellipsoid

/** Before the aeroplane was seen to stand: the height channel and the runway's elevation are believed. */
export const UNPROVED_SOURCE: HeightSource = { heightAside: false, zeroAltitudeFt: null, stood: null };

/**
 * Height (ft) above the floor, or above the runway: the simulator's own height, else altitude less elevation, each only
 * if the source does not set it aside, else altitude less what it was where the aeroplane stood.
 */
export function heightAbove(
  { scenario, runway }: Pick<ExerciseSetup, 'scenario' | 'runway'>,
  sample: Pick<Sample, 'altitudeFt' | 'heightFt'>,
  { heightAside, zeroAltitudeFt }: HeightSource = UNPROVED_SOURCE,
): number {
  if (scenario.practice.from === 'floor') return sample.altitudeFt - scenario.practice.floorAltitudeFt;
  const byAltitudeFt = sample.altitudeFt - (zeroAltitudeFt ?? runway.elevationFt);
  return heightAside ? byAltitudeFt : (sample.heightFt ?? byAltitudeFt);
}

/** The same, as an attempt under way counts it. */
export function heightOf({ setup, intake }: Pick<ExerciseState, 'setup' | 'intake'>, sample: Sample): number {
  return heightAbove(setup, sample, intake.heightSource);
}

/** Altitude plus speed as height (ft); true airspeed if told, else indicated, which only changes of it are used of. */
export function energyHeightFt(sample: Sample): number {
  const speedFps = (sample.trueAirspeedKt ?? sample.indicatedAirspeedKt) * FPS_PER_KT;
  return sample.altitudeFt + speedFps ** 2 / (2 * GRAVITY_FPS2);
}

type Place = Pick<Sample, 'latitudeDeg' | 'longitudeDeg'>;

/** Distance over the ground (ft), on a sphere and locally flat: for jumps, standstill and leaving the area. */
export function distanceFt(from: Place, to: Place): number {
  const northRad = (to.latitudeDeg - from.latitudeDeg) * RAD_PER_DEG;
  const turns = (to.longitudeDeg - from.longitudeDeg) / 360;
  const eastRad = (turns - Math.round(turns)) * 2 * Math.PI * Math.cos(from.latitudeDeg * RAD_PER_DEG);
  return MEAN_EARTH_RADIUS_FT * Math.hypot(northRad, eastRad);
}
