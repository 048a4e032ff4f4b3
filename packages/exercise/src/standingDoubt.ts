// Data of an aeroplane that stands on the ground and cannot be right: most often a unit that the link profile has wrong.
import type { Sample } from '@stillprop/contracts';
import type { Described } from './describe.js';
import { heightAbove } from './heightAbove.js';
import type { ExerciseSetup } from './states.js';
import { inFeet, inKnots } from './words.js';

/** No runway's own slope, wrong elevation or pressure setting puts a standing aeroplane so far off. Common practice, no source. */
const HEIGHT_OFF_FT = 300;
/** No wind that anybody takes off in makes groundspeed and airspeed differ so much. Common practice, no source. */
const SPEED_OFF_KT = 60;

/** What a sample told on the ground cannot mean, in words, with where to look; null: nothing is amiss. */
export function standingDoubt(setup: ExerciseSetup, sample: Sample): Described | null {
  const heightFt = heightAbove(setup, sample);
  if (Math.abs(heightFt) > HEIGHT_OFF_FT) {
    const channel = sample.heightFt === undefined ? 'altitude' : 'height';
    return {
      text: `Armed, but the data say ${inFeet(Math.abs(heightFt))} ${heightFt > 0 ? 'above' : 'below'} the runway.`,
      next: `Check the ${channel}'s unit in the link profile, and the scenario's runway.`,
    };
  }
  const { groundspeedKt, indicatedAirspeedKt } = sample;
  if (groundspeedKt === undefined || Math.abs(groundspeedKt - indicatedAirspeedKt) <= SPEED_OFF_KT) return null;
  return {
    text: `Armed, but the data say a groundspeed of ${inKnots(groundspeedKt)} on the ground, and an airspeed of ${inKnots(indicatedAirspeedKt)}.`,
    next: "Check the groundspeed's and the airspeed's unit in the link profile.",
  };
}
