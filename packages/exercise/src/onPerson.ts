// What a person asks: arm, fail now, restore the power, stop.
import { close, type Draft, move, record } from './draft.js';
import { fire } from './failing.js';
import { heightOf } from './heightAbove.js';
import type { PersonCommand } from './states.js';
import { REFUSALS } from './stateTable.js';
import { closedGate, failureCommand } from './trigger.js';
import { inFeet } from './words.js';

interface Answer {
  readonly ok: boolean;
  readonly text: string;
}

/** Commands that give the power back; the throttle only where it took it. */
const RESTORING = ['restore', 'setPower', 'throttle'] as const;

export function onPerson(draft: Draft, command: PersonCommand, nowS: number): void {
  draft.actions.push({ kind: 'answer', ...answered(draft, command, nowS) });
}

function answered(draft: Draft, command: PersonCommand, nowS: number): Answer {
  const refused = REFUSALS[command][draft.state.name];
  if (refused !== undefined) return no(refused);
  switch (command) {
    case 'arm':
      return arm(draft, nowS);
    case 'restore':
      return restore(draft);
    case 'fail-now':
      return failNow(draft, nowS);
    case 'stop':
      close(draft, 'instructor', 'Stopped by hand.');
      return yes('Stopped.');
  }
}

function arm(draft: Draft, nowS: number): Answer {
  move(draft, 'arm', { openedS: nowS });
  record(draft, 'armed', 'Armed: waiting for the lift-off.');
  return yes('Armed.');
}

function restore(draft: Draft): Answer {
  const { setup, fired, intake } = draft.state;
  const { commands, noFailureCommand } = setup;
  const names = noFailureCommand === 'cut-throttle' ? RESTORING : RESTORING.slice(0, 2);
  const command = names.find((name) => commands.includes(name));
  const { propeller } = setup.drawn;
  if (command !== undefined) {
    draft.actions.push({ kind: 'send', purpose: 'restore', command, powerFraction: 1, propeller });
  } else if (noFailureCommand === 'by-hand') {
    draft.actions.push({ kind: 'prompt', purpose: 'restore', text: 'Give the power back: open the throttle.' });
  } else return no('This link has no command that restores the power.');
  if (fired !== null && intake.newest !== null) {
    const lowestHeightFt = heightOf({ setup, intake }, intake.newest);
    move(draft, 'restored', { restored: { lowestHeightFt }, nextSurgeS: null });
  }
  record(draft, 'restored', 'Power was restored by hand.');
  return yes(command === undefined ? 'Open the throttle by hand.' : 'The simulator was asked to restore the power.');
}

/** By hand the height drawn and the climb do not matter; every other rule holds. */
function failNow(draft: Draft, nowS: number): Answer {
  const { setup, intake, fired, name, noFailureTold } = draft.state;
  const { newest } = intake;
  if (fired !== null) return no('The engine was failed already: never twice in one attempt.');
  const closed = closedGate(draft.state, nowS);
  const liftedOff = name === 'climbing' || noFailureTold;
  if (!liftedOff || newest === null || closed === 'ground') return no('No lift-off was seen yet: never on the ground.');
  if (closed === 'data') return no('The data are stale or implausible just now.');
  if (closed === 'too-high') return no(`Never above ${inFeet(setup.scenario.failure.highestHeightFt)}.`);
  const command = failureCommand(setup.drawn, setup);
  if (command === null) return no('This link has no command that fails the engine.');
  record(draft, 'fail-now', 'Failure asked for by hand.');
  fire(draft, command, newest, nowS, true);
  return yes(command.means === 'by-hand' ? 'Close the throttle by hand, now.' : 'Failure sent.');
}

function yes(text: string): Answer {
  return { ok: true, text };
}

function no(text: string): Answer {
  return { ok: false, text };
}
