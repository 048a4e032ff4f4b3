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
  const command = (['restore', 'setPower'] as const).find((name) => setup.commands.includes(name));
  if (command === undefined) return no('This link has no command that restores the power.');
  const { propeller } = setup.drawn;
  draft.actions.push({ kind: 'send', purpose: 'restore', command, powerFraction: 1, propeller });
  if (fired !== null && intake.newest !== null) {
    const lowestHeightFt = heightOf({ setup, intake }, intake.newest);
    move(draft, 'restored', { restored: { lowestHeightFt }, nextSurgeS: null });
  }
  record(draft, 'restored', 'Power was restored by hand.');
  return yes('The simulator was asked to restore the power.');
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
  const command = failureCommand(setup.drawn, setup.commands);
  if (command === null) return no('This link has no command that fails the engine.');
  record(draft, 'fail-now', 'Failure asked for by hand.');
  fire(draft, command, newest, nowS, true);
  return yes('Failure sent.');
}

function yes(text: string): Answer {
  return { ok: true, text };
}

function no(text: string): Answer {
  return { ok: false, text };
}
