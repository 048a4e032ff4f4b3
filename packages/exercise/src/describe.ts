// The exercise in words: what is so, and what to do next. It gives away neither a drawn height nor whether one was drawn.
import { heightOf } from './heightAbove.js';
import { sourceWords } from './heightSource.js';
import type { ExerciseState } from './states.js';
import { inFeet } from './words.js';

/** Simulated seconds that a fault is shown for. */
const FAULT_SHOWN_S = 10;

export interface Described {
  readonly text: string;
  readonly next: string;
}

/** Words for the page, of the state itself: plain, short, no height that the pilot is not meant to know. */
export function describe(state: ExerciseState): Described {
  const { intake, closed, name } = state;
  if (name === 'closed')
    return { text: `Attempt over. ${closed?.text ?? ''}`, next: 'Look at the debrief, or arm again.' };
  if (name === 'idle') return { text: 'Nothing is armed.', next: 'Arm before the take-off.' };
  if (intake.newest === null) {
    return { text: 'Armed. No data from the simulator yet.', next: 'Start the flight, or check the link.' };
  }
  if (intake.silent) return { text: 'No data from the simulator.', next: 'Check that it runs and is not paused.' };
  if (intake.paused) return { text: 'The simulator is paused: its time stands still.', next: 'Let it go on.' };
  return name === 'armed' ? armed(state) : withFaults(state, inFlight(state, name));
}

function inFlight(state: ExerciseState, name: 'climbing' | 'firing' | 'disobeyed' | 'watching'): Described {
  switch (name) {
    case 'climbing':
      return climbing(state);
    case 'firing':
      if (state.fired?.command.means === 'by-hand') {
        return { text: 'The failure is due now.', next: 'Instructor: close the throttle.' };
      }
      return { text: 'Failure sent. Waiting for the power to fall.', next: 'Fly the aeroplane.' };
    case 'disobeyed':
      if (state.fired?.command.means === 'by-hand') {
        return { text: 'The throttle was not closed: the engine still runs.', next: 'Stop the attempt and arm again.' };
      }
      return {
        text: 'The simulator did not obey: the engine still runs.',
        next: 'Stop the attempt and check the commands of the link.',
      };
    case 'watching':
      return watching(state);
  }
}

/** What is wrong with the data stands beside what goes on, and where to look. */
function withFaults({ intake, lastFault }: ExerciseState, { text, next }: Described): Described {
  const [doubt] = intake.doubts.standing;
  if (doubt !== undefined) return { text: `${text} ${doubt.text}`, next: `${next} ${doubt.next}` };
  const recent = lastFault !== null && intake.newest !== null && intake.newest.timeS - lastFault.timeS <= FAULT_SHOWN_S;
  return recent ? { text: `${text} Data fault: ${lastFault.text}`, next } : { text, next };
}

function armed({ setup, ground, intake }: ExerciseState): Described {
  const { practice } = setup.scenario;
  const [doubt] = intake.doubts.standing;
  if (doubt !== undefined) {
    return { text: `Armed, but ${doubt.text.charAt(0).toLowerCase()}${doubt.text.slice(1)}`, next: doubt.next };
  }
  if (practice.from === 'floor') {
    const floor = inFeet(practice.floorAltitudeFt);
    return ground.seen
      ? { text: `Armed at the floor of ${floor}.`, next: 'Climb as after a take-off.' }
      : { text: 'Armed. The climb must begin at the floor.', next: `Descend to ${floor} altitude, then climb.` };
  }
  const source = sourceWords(setup, intake.heightSource);
  if (ground.seen && source !== null) {
    return { text: `Armed. On the ground. ${source.text}`, next: 'Take off when ready.' };
  }
  return ground.seen
    ? { text: 'Armed. On the ground.', next: 'Take off when ready.' }
    : {
        text: 'Armed, but not seen on the ground yet.',
        next: 'Go to the runway: only a lift-off that is seen counts.',
      };
}

function climbing({ setup, intake, passedTopTold }: ExerciseState): Described {
  const { failure } = setup.scenario;
  const above = intake.newest !== null && heightOf({ setup, intake }, intake.newest) > failure.highestHeightFt;
  if (passedTopTold && above) {
    return {
      text: `Above ${inFeet(failure.highestHeightFt)} no failure is sent.`,
      next: 'Descend and climb again, or stop.',
    };
  }
  const { height, kind } = failure;
  const known = height.choose === 'fixed' && kind !== 'none' ? height.heightFt : null;
  const text = known === null ? 'Airborne. A failure may come.' : `Airborne. The failure comes at ${inFeet(known)}.`;
  return { text, next: 'Climb straight ahead.' };
}

function watching({ contact, restored, fired }: ExerciseState): Described {
  if (contact !== null) return { text: 'On the ground.', next: 'Stop the aeroplane: that ends the attempt.' };
  if (restored !== null) return { text: 'Power is back.', next: 'Climb away, or land.' };
  if (fired === null) return { text: 'No failure in this attempt.', next: 'Land, or stop the attempt.' };
  return { text: 'Engine failed.', next: 'Fly the aeroplane, then land it.' };
}
