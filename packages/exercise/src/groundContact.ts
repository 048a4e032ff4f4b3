// On the ground or in the air, by the simulator's own word, or by height and speed where it gives none.
import type { Sample } from '@stillprop/contracts';
import { heightOf } from './heightAbove.js';
import type { ExerciseSetup, ExerciseState } from './states.js';

/** Slower than this share of the stall speed with landing flap, nothing flies. */
const NOT_FLYING = 0.7;
const LEVEL_FPM = 300;
/** A wheel that lifts this far above where it stood is off the ground. */
const LIFTED_FT = 15;
const TOUCHING_FT = 4;
/** Practice over a floor: below this height above it the climb has not begun. No failure is ever drawn lower. */
export const FLOOR_START_FT = 50;

export type Contact = 'ground' | 'air' | 'unknown';

/**
 * Over a floor, `ground` means low enough to begin the climb from. Without an on-ground channel a fast aeroplane low over
 * the runway is `unknown` until it has stood or risen.
 */
export function contactOf(state: Pick<ExerciseState, 'setup' | 'ground' | 'intake'>, sample: Sample): Contact {
  const { setup, ground } = state;
  const heightFt = heightOf(state, sample);
  if (setup.scenario.practice.from === 'floor') {
    return sample.onGround === true || heightFt < FLOOR_START_FT ? 'ground' : 'air';
  }
  if (sample.onGround !== undefined) return sample.onGround ? 'ground' : 'air';
  if (!isFast(setup, sample) && Math.abs(sample.verticalSpeedFpm) < LEVEL_FPM) return 'ground';
  if (ground.heightFt === null) return 'unknown';
  if (heightFt <= ground.heightFt + TOUCHING_FT) return 'ground';
  return heightFt >= ground.heightFt + LIFTED_FT ? 'air' : 'unknown';
}

/** Fast enough to fly at all. */
export function isFast(setup: ExerciseSetup, sample: Sample): boolean {
  return sample.indicatedAirspeedKt >= NOT_FLYING * setup.aircraft.stallLandingKcas;
}
