// One step in the making: the state so far and the actions gathered, and the few things every part of a step does.
import type { ExerciseEventCode, RecordedEvent } from '@stillprop/contracts';
import type { ExerciseAction, ExerciseState, Held, Intake, Move, Step } from './states.js';
import { type Cause, type ClosingReason, STATE_TABLE } from './stateTable.js';

export interface Draft {
  state: ExerciseState;
  readonly actions: ExerciseAction[];
  readonly moves: Move[];
}

/** Goes to the state that the table of states gives, with what else changes on the way. */
export function move(draft: Draft, cause: Cause, patch: Partial<Omit<ExerciseState, 'name'>> = {}): void {
  draft.moves.push({ from: draft.state.name, cause });
  draft.state = { ...draft.state, ...patch, name: STATE_TABLE[cause].to };
}

export function change(draft: Draft, patch: Partial<Omit<ExerciseState, 'name'>>): void {
  draft.state = { ...draft.state, ...patch };
}

export function record(
  draft: Draft,
  code: ExerciseEventCode,
  text: string,
  figures?: Record<string, number>,
  more: Pick<RecordedEvent, 'means'> = {},
): void {
  const timeS = draft.state.intake.newest?.timeS ?? null;
  const event = { kind: 'event', timeS, code, text, ...more } as const;
  draft.actions.push({ kind: 'record-event', event: figures === undefined ? event : { ...event, figures } });
}

/** Ends the attempt; after that nothing is sent or recorded any more. */
export function close(draft: Draft, reason: ClosingReason, text: string): void {
  releaseHeld(draft);
  const { state } = draft;
  if (state.setup.drawn.kind === 'none' && state.everLiftedOff && !state.noFailureTold && state.fired === null) {
    record(draft, 'no-failure-drawn', 'This attempt was drawn without a failure.');
  }
  const { faults, silences } = state.intake;
  record(draft, 'closed', text, { ...faults, silences });
  draft.actions.push({ kind: 'close', reason, text, timeS: state.intake.newest?.timeS ?? null });
  move(draft, reason, { closed: { reason, text }, nextSurgeS: null });
}

/** Before a lift-off nothing is lost when the simulator starts anew: the wait begins again. */
export function waitAnew(draft: Draft, intake: Intake): void {
  change(draft, {
    intake,
    held: null,
    ground: { seen: false, heightFt: null, airborneSinceS: null },
    onGroundSinceS: null,
  });
}

/** Samples kept back until now, oldest first, into the recording. */
export function releaseHeld(draft: Draft): void {
  const samples = [];
  for (let held = draft.state.held; held !== null; held = held.older) samples.push(held.sample);
  for (const sample of samples.reverse()) draft.actions.push({ kind: 'record-sample', sample });
  change(draft, { held: null });
}

const HELD_MOST = 6000;
const HELD_AFTER_CUT = 3000;

/** Keeps a sample back; of a long wait only the end is kept. */
export function hold(held: Held | null, sample: Held['sample']): Held {
  if (held === null || held.count < HELD_MOST) return { sample, older: held, count: (held?.count ?? 0) + 1 };
  const newest = [sample];
  for (let at: Held | null = held; at !== null && newest.length < HELD_AFTER_CUT; at = at.older) newest.push(at.sample);
  return newest.reduceRight<Held | null>(
    (older, each) => ({ sample: each, older, count: (older?.count ?? 0) + 1 }),
    null,
  ) as Held;
}

/** What is sent or told to the instructor comes first: the caller acts in order. */
export function finished({ state, actions, moves }: Draft): Step {
  const urgent = ({ kind }: ExerciseAction) => kind === 'send' || kind === 'prompt';
  return { state, moves, actions: [...actions.filter(urgent), ...actions.filter((action) => !urgent(action))] };
}
