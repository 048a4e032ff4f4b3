// Data of an aeroplane that stands on the ground and cannot be right: most often a unit that the link profile has wrong.
import type { Sample } from '@stillprop/contracts';
import { M_PER_FT } from '@stillprop/physics';
import { OFF_FT } from './heightSource.js';
import type { Doubt, ExerciseSetup } from './states.js';
import { inFeet, inKnots } from './words.js';

/** No runway's own slope, wrong elevation or pressure setting puts a standing aeroplane so far off. Common practice, no source. */
const HEIGHT_OFF_FT = 300;
/** Metres read as feet come this near to the elevation once converted. */
const METRES_NEAR_FT = 30;
/** No wind that anybody takes off in makes groundspeed and airspeed differ so much. Common practice, no source. */
const SPEED_OFF_KT = 60;

/** What a sample told on the ground cannot mean, with where to look; the gravest first. */
export function standingDoubts(setup: ExerciseSetup, sample: Sample): Doubt[] {
  const byHeight = setup.scenario.practice.from === 'runway';
  const found = [
    byHeight && sample.heightFt !== undefined ? offGround('height', sample.heightFt) : null,
    byHeight ? altitude(setup, sample) : null,
    speeds(sample),
  ];
  return found.filter((doubt) => doubt !== null);
}

function altitude({ runway }: ExerciseSetup, { altitudeFt }: Sample): Doubt | null {
  const { elevationFt } = runway;
  const offFt = altitudeFt - elevationFt;
  const metres = Math.abs(offFt) > OFF_FT && Math.abs(altitudeFt / M_PER_FT - elevationFt) <= METRES_NEAR_FT;
  if (!metres) return offGround('altitude', offFt);
  const text = `The data say an altitude of ${inFeet(altitudeFt)} where the runway lies at ${inFeet(elevationFt)}: altitude seems to be in metres.`;
  const next = "Check the altitude's unit in the link profile.";
  return { name: 'altitude', text, next, figures: { altitudeFt, elevationFt } };
}

function offGround(channel: 'height' | 'altitude', offFt: number): Doubt | null {
  if (Math.abs(offFt) <= HEIGHT_OFF_FT) return null;
  return {
    name: 'ground-height',
    text: `The data say ${inFeet(Math.abs(offFt))} ${offFt > 0 ? 'above' : 'below'} the runway.`,
    next: `Check the ${channel}'s unit in the link profile, and the scenario's runway.`,
    figures: { offFt },
  };
}

function speeds({ groundspeedKt, indicatedAirspeedKt }: Sample): Doubt | null {
  if (groundspeedKt === undefined || Math.abs(groundspeedKt - indicatedAirspeedKt) <= SPEED_OFF_KT) return null;
  return {
    name: 'groundspeed',
    text: `The data say a groundspeed of ${inKnots(groundspeedKt)} on the ground, and an airspeed of ${inKnots(indicatedAirspeedKt)}.`,
    next: "Check the groundspeed's and the airspeed's unit in the link profile.",
    figures: { groundspeedKt, indicatedAirspeedKt },
  };
}
