// The exercise as a pure step: state and input in, state and actions out. No clock, no sockets, no randomness.
import { close, type Draft, finished, waitAnew } from './draft.js';
import { emptyIntake, NO_FAULTS } from './intake.js';
import { onPerson } from './onPerson.js';
import { onSample } from './onSample.js';
import { onTick } from './onTick.js';
import type { ExerciseInput, ExerciseSetup, ExerciseState, Step } from './states.js';
import { failureCommand } from './trigger.js';

/**
 * The state of an attempt before it is armed.
 *
 * @throws {RangeError} If the link has no command that makes the failure drawn.
 */
export function startExercise(setup: ExerciseSetup): ExerciseState {
  const { drawn } = setup;
  if (drawn.kind !== 'none' && failureCommand(drawn, setup) === null) {
    const others = drawn.kind === 'total' ? ', "fail"' : '';
    throw new RangeError(
      `a ${drawn.kind} failure needs a link with the command "setPower"${others} or a noFailureCommand that can make it`,
    );
  }
  return {
    setup,
    name: 'idle',
    openedS: null,
    intake: emptyIntake(),
    held: null,
    ground: { seen: false, heightFt: null, airborneSinceS: null },
    everLiftedOff: false,
    noFailureTold: false,
    passedTopTold: false,
    heldBackTold: false,
    faultsTold: NO_FAULTS,
    lastFault: null,
    fired: null,
    fall: null,
    restored: null,
    nextSurgeS: null,
    surges: 0,
    contact: null,
    onGroundSinceS: null,
    closed: null,
  };
}

/** One input. The actions are to be done in their order; after a `close` no further input changes anything. */
export function advance(state: ExerciseState, input: ExerciseInput): Step {
  if (state.name === 'closed' && input.kind !== 'person') return { state, actions: [], moves: [] };
  const draft: Draft = { state, actions: [], moves: [] };
  switch (input.kind) {
    case 'sample':
      onSample(draft, input.sample, input.receivedS);
      break;
    case 'tick':
      onTick(draft, input.nowS);
      break;
    case 'person':
      onPerson(draft, input.command, input.nowS);
      break;
    case 'simulator-reset':
      reset(draft);
      break;
  }
  return finished(draft);
}

function reset(draft: Draft): void {
  const { everLiftedOff, intake } = draft.state;
  const { heardS, faults, silences } = intake;
  if (everLiftedOff) close(draft, 'simulator-reset', 'The simulator was reset by hand.');
  else waitAnew(draft, { ...emptyIntake(), heardS, faults, silences });
}
