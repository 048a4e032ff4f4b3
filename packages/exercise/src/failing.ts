// From the command to the power having fallen: firing, repeating, giving up, and the rhythm of a surging engine.
import type { FailureMeans, Sample } from '@stillprop/contracts';
import { change, type Draft, move, record } from './draft.js';
import { heightOf } from './heightAbove.js';
import { intervalS, momentBefore, pace } from './intake.js';
import { fallChannel, powerFall } from './powerFall.js';
import { seededGenerator } from './seededGenerator.js';
import type { FailureOrder, Fired, Moment } from './states.js';
import { type ClosedGate, closedGate, latencyS } from './trigger.js';
import { inFeet } from './words.js';

export const MOST_REPEATS = 3;
/** Before a command is sent again: so long in simulated time (longer where power itself is not told), and in wall time. */
const WAIT_S = 1;
const WAIT_WITHOUT_POWER_S = 4;
const WAIT_WALL_S = 0.25;
/** A repeat that is due and may not go out is waited for this long, in simulated and in wall time. */
const HELD_S = 5;
const HELD_WALL_S = 1;
/** A simulator that obeys later than this (simulated time) does not any more: it is the pilot who takes the power off. */
const LATE_S = 30;
/** A hand that has not closed the throttle by then (simulated and wall time) does not any more. */
const HAND_LATE_S = 15;
const MAP_POWER =
  'A governed propeller holds its speed without power: map the channel "powerFraction" in the link profile.';
const MOMENTS_SINCE = 400;
const ENERGY_BEFORE_S = 2;
/** A surging engine changes after 1 to 3 s, between the power of the plan and 0.3 to 0.7 above it, 0.9 at most. */
const SURGE_AFTER_S = 1;
const SURGE_SPREAD_S = 2;

/** Sends the failure, or has it made by hand: the one place where that happens. */
export function fire(draft: Draft, command: FailureOrder, sample: Sample, nowS: number, byHand: boolean): void {
  const { state } = draft;
  const { setup, intake } = state;
  const moment = intake.moments.at(-1) as Moment; // the sample fired on was taken, so its moment is there
  const heightFt = heightOf(draft.state, sample);
  const assumedS = latencyS(setup, intake);
  const fired: Fired = {
    atS: sample.timeS,
    heightFt,
    byHand,
    command,
    powerBefore: moment.powerFraction,
    rpmBefore: newestRpm(intake.moments),
    energyRateBeforeFps: energyRateFps(intake.moments),
    timesSent: 1,
    lastSentS: sample.timeS,
    lastSentWallS: nowS,
    heldBack: null,
    since: [moment],
  };
  order(draft, command, 'fire');
  move(draft, byHand ? 'failed-by-hand' : 'failure-due', { fired });
  const planned: Record<string, number> = {};
  if (!byHand && setup.drawn.heightFt !== null) planned.plannedHeightFt = setup.drawn.heightFt;
  const figures = {
    heightFt,
    ...planned,
    verticalSpeedFpm: sample.verticalSpeedFpm,
    assumedLatencyS: assumedS,
    powerFraction: command.powerFraction,
  };
  const { means } = command;
  const text = `${COMMANDED[means]} at ${inFeet(heightFt)}.`;
  record(draft, 'fail-commanded', text, figures, means === 'command' ? {} : { means });
}

const COMMANDED: Readonly<Record<FailureMeans, string>> = {
  command: 'Failure commanded',
  'cut-throttle': 'The throttle was closed by command',
  'by-hand': 'The instructor was told to close the throttle',
};

function order(draft: Draft, command: FailureOrder, purpose: 'fire' | 'repeat'): void {
  if (command.means !== 'by-hand') {
    const { means: _, ...engine } = command;
    draft.actions.push({ kind: 'send', purpose, ...engine });
  } else if (purpose === 'fire') {
    const left = Math.round(command.powerFraction * 100);
    const text =
      left === 0 ? 'Close the throttle now.' : `Close the throttle now, until ${left} % of take-off power is left.`;
    draft.actions.push({ kind: 'prompt', purpose, text });
  }
}

/** Looks for the fall with each sample after the command; repeats the command, or says that it was not obeyed. */
export function watchFall(draft: Draft, sample: Sample, receivedS: number): void {
  const { fired, fall, intake, restored } = draft.state;
  const moment = intake.moments.at(-1);
  if (fired === null || fall !== null || restored !== null || moment === undefined) return;
  const tooMany = fired.since.length >= MOMENTS_SINCE;
  const since = tooMany ? [...fired.since.slice(0, 1), ...fired.since.slice(2), moment] : [...fired.since, moment];
  const now = { ...fired, since };
  change(draft, { fired: now });
  // A pilot told that the engine still runs levels off or lands: by climb and speed that looks like a loss of power.
  const late = fallChannel(now) === 'energy' || sample.timeS - fired.lastSentS > LATE_S;
  if (draft.state.name === 'disobeyed' && late) return;
  const seen = powerFall(draft.state.setup, now);
  if (seen !== null) fallSeen(draft, seen);
  else if (draft.state.name === 'firing') sendAgainOrGiveUp(draft, sample, receivedS);
}

/** Changes the power of a surging engine when its time has come; what takes power away waits until it may. */
export function surge(draft: Draft, sample: Sample, receivedS: number): void {
  const { nextSurgeS, surges, setup, fired, restored } = draft.state;
  if (nextSurgeS === null || fired === null || restored !== null || sample.timeS < nextSurgeS) return;
  const rises = surges % 2 === 0;
  if (!rises && closedGate(draft.state, receivedS) !== null) return;
  const next = seededGenerator(setup.seed, surges);
  if (fired.command.means === 'by-hand') return;
  const { means: _, ...engine } = fired.command;
  const low = engine.powerFraction;
  const powerFraction = rises ? Math.max(low, Math.min(0.9, low + 0.3 + 0.4 * next())) : low;
  draft.actions.push({ kind: 'send', purpose: 'surge', ...engine, powerFraction });
  change(draft, { surges: surges + 1, nextSurgeS: sample.timeS + SURGE_AFTER_S + SURGE_SPREAD_S * next() });
}

function fallSeen(draft: Draft, seen: NonNullable<ReturnType<typeof powerFall>>): void {
  const { setup, intake, fired } = draft.state;
  const figures: Record<string, number> = { heightFt: seen.heightFt, fallS: seen.atS };
  if (setup.drawn.heightFt !== null && fired?.byHand === false) figures.plannedHeightFt = setup.drawn.heightFt;
  if (seen.latencyS !== null) figures.latencyS = seen.latencyS;
  if (seen.channel === 'energy') figures.byEnergy = 1;
  const surging = setup.drawn.kind === 'surging' && fired?.byHand === false;
  move(draft, 'power-fell', {
    fall: { ...seen, pace: pace(intake) },
    nextSurgeS: surging ? seen.atS + SURGE_AFTER_S : null,
  });
  const governed = fired !== null && seen.channel === 'energy' && fallChannel(fired) === 'rpm';
  const how = governed ? ` Climb and speed told it: engine speed stayed up. ${MAP_POWER}` : '';
  record(draft, 'power-fell', `Power fell at ${inFeet(seen.heightFt)}.${how}`, figures);
}

function sendAgainOrGiveUp(draft: Draft, sample: Sample, receivedS: number): void {
  const { fired, setup, intake } = draft.state;
  if (fired === null) return;
  if (fired.command.means === 'by-hand') {
    if (sample.timeS - fired.atS >= HAND_LATE_S && receivedS - fired.lastSentWallS >= HAND_LATE_S) {
      notObeyed(draft, fired, sample, '');
    }
    return;
  }
  const leastS = fallChannel(fired) === 'power' ? WAIT_S : WAIT_WITHOUT_POWER_S;
  const waitS = Math.max(leastS, 2 * latencyS(setup, intake) + 3 * intervalS(setup, intake));
  if (sample.timeS - fired.lastSentS < waitS || receivedS - fired.lastSentWallS < WAIT_WALL_S) return;
  if (fired.timesSent > MOST_REPEATS) {
    notObeyed(draft, fired, sample, '');
    return;
  }
  const closed = closedGate(draft.state, receivedS);
  if (closed === null) sendAgain(draft, fired, sample, receivedS);
  else holdBack(draft, fired, sample, receivedS, closed);
}

function sendAgain(draft: Draft, fired: Fired, sample: Sample, receivedS: number): void {
  const timesSent = fired.timesSent + 1;
  order(draft, fired.command, 'repeat');
  change(draft, { fired: { ...fired, timesSent, lastSentS: sample.timeS, lastSentWallS: receivedS, heldBack: null } });
  record(draft, 'command-repeated', 'Power had not fallen: the command was sent again.', { timesSent });
}

function holdBack(draft: Draft, fired: Fired, sample: Sample, receivedS: number, closed: ClosedGate): void {
  const heldBack = fired.heldBack ?? { timeS: sample.timeS, wallS: receivedS };
  change(draft, { fired: { ...fired, heldBack } });
  if (sample.timeS - heldBack.timeS < HELD_S || receivedS - heldBack.wallS < HELD_WALL_S) return;
  const { highestHeightFt } = draft.state.setup.scenario.failure;
  const where = { ground: 'on the ground', data: 'on data like these', 'too-high': `above ${inFeet(highestHeightFt)}` };
  notObeyed(draft, fired, sample, `, and none is sent ${where[closed]}`);
}

function notObeyed(draft: Draft, fired: Fired, sample: Sample, why: string): void {
  const { timesSent, command } = fired;
  const commands = timesSent === 1 ? '1 command' : `${timesSent} commands`;
  const only = fallChannel(fired) === 'rpm' ? ` This link tells the power by engine speed only. ${MAP_POWER}` : '';
  const text =
    command.means === 'by-hand'
      ? `The power did not fall within ${HAND_LATE_S} s after the instructor was told to close the throttle.${only}`
      : `The simulator did not obey: power did not fall after ${commands}${why}.${only}`;
  move(draft, 'not-obeyed');
  record(draft, 'not-obeyed', text, { timesSent, heightFt: heightOf(draft.state, sample) });
}

/** Of the newest moment that tells it: some links send the channel less often than the rest. */
function newestRpm(moments: readonly Moment[]): number | null {
  return moments.findLast(({ engineRpm }) => engineRpm !== null)?.engineRpm ?? null;
}

function energyRateFps(moments: readonly Moment[]): number | null {
  const newest = moments.at(-1);
  const from = momentBefore(moments, ENERGY_BEFORE_S);
  if (newest === undefined || from === null) return null;
  return (newest.energyHeightFt - from.energyHeightFt) / (newest.timeS - from.timeS);
}
