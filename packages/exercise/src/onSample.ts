// One sample: taken or not, on the ground or in the air, failure due, power fallen, attempt over.
import type { Sample } from '@stillprop/contracts';
import { doubtUnits } from './doubtUnits.js';
import { change, close, type Draft, hold, move, record, releaseHeld, waitAnew } from './draft.js';
import { endOf } from './ends.js';
import { fire, surge, watchFall } from './failing.js';
import { contactOf, isFast } from './groundContact.js';
import { heightOf } from './heightAbove.js';
import { sourceOnGround, sourceWords } from './heightSource.js';
import { receive } from './intake.js';
import type { Fault } from './states.js';
import { failureCommand, failureDue } from './trigger.js';
import { inFeet } from './words.js';

const LIFT_OFF_CONFIRMED_S = 0.5;
const LIFT_OFF_CONFIRMED_FT = 10;
/** Faults told one by one; the rest are only counted, and the counts stand in the closing event. */
const FAULTS_TOLD = 3;
const SILENCES_TOLD = 20;
/** Good samples in a row before what they tell of the ground is believed, and the vertical speed of one that stands. */
const PROVED_BY = 3;
const STANDING_FPM = 300;
export function onSample(draft: Draft, told: Sample, receivedS: number): void {
  const { setup, intake, everLiftedOff, name } = draft.state;
  const received = receive(setup, intake, told, receivedS, !everLiftedOff);
  if (received.kind === 'anew' && everLiftedOff) {
    close(draft, 'simulator-reset', received.text);
    return;
  }
  if (received.kind === 'anew') waitAnew(draft, received.intake);
  else change(draft, { intake: received.intake });
  const armed = name !== 'idle';
  if (intake.silent) linkBack(draft, armed && intake.silences <= SILENCES_TOLD);
  if (!armed) return;
  if (received.kind !== 'anew') for (const fault of received.faults) tellFault(draft, fault);
  if (received.kind !== 'dropped') flown(draft, received.sample, receivedS, intake.newest);
}

function flown(draft: Draft, sample: Sample, receivedS: number, before: Sample | null): void {
  if (draft.state.everLiftedOff) draft.actions.push({ kind: 'record-sample', sample });
  else change(draft, { held: hold(draft.state.held, sample) });
  // A sample that tells of the lift-off does not fire too: one that is wrong about both would fail a parked engine.
  const wasClimbing = draft.state.name === 'climbing';
  feelGround(draft, sample, receivedS, before ?? sample);
  doubtUnits(draft, sample);
  if (draft.state.name === 'climbing') {
    if (wasClimbing) seekTrigger(draft, sample, receivedS);
  } else watchFall(draft, sample, receivedS);
  surge(draft, sample, receivedS);
  const end = endOf(draft, sample);
  if (end !== null) close(draft, end.reason, end.text);
}

function linkBack(draft: Draft, tell: boolean): void {
  change(draft, { intake: { ...draft.state.intake, silent: false } });
  if (tell) record(draft, 'link-back', 'Data arrive again.');
}

/** In flight only: on the ground a simulator may be set up anew, and looks faulty while that goes on. */
function tellFault(draft: Draft, { name, text, figures }: Fault): void {
  const { everLiftedOff, faultsTold, intake } = draft.state;
  const most = name === 'duplicate' ? 1 : FAULTS_TOLD;
  if (!everLiftedOff || intake.newest === null) return;
  if (name !== 'duplicate') change(draft, { lastFault: { timeS: intake.newest.timeS, text } });
  if (faultsTold[name] >= most) return;
  change(draft, { faultsTold: { ...faultsTold, [name]: faultsTold[name] + 1 } });
  record(draft, 'data-fault', text, { ...figures, count: intake.faults[name] });
}

function feelGround(draft: Draft, sample: Sample, receivedS: number, before: Sample): void {
  const { setup, ground, name, fired, noFailureTold, contact, onGroundSinceS } = draft.state;
  const felt = contactOf(draft.state, sample);
  const floor = setup.scenario.practice.from === 'floor' && sample.onGround !== true;
  if (felt === 'ground') proveSource(draft, sample);
  const heightFt = heightOf(draft.state, sample);
  if (felt === 'ground') {
    // Low and fast without the simulator's word is no measure of the ground's own height.
    const measured = floor || sample.onGround === true || !isFast(setup, sample) ? heightFt : ground.heightFt;
    change(draft, {
      ground: { seen: true, heightFt: measured, airborneSinceS: null },
      onGroundSinceS: onGroundSinceS ?? sample.timeS,
    });
    if (name === 'climbing') move(draft, 'touched-down-unfailed');
    if (!floor && contact === null && (fired !== null || noFailureTold)) touched(draft, sample, receivedS, before);
  } else if (felt === 'air') {
    change(draft, { onGroundSinceS: null });
    if (name === 'armed' && ground.seen) liftingOff(draft, sample, heightFt);
  }
}

/** Until the lift-off, by every sample of an aeroplane that stands or rolls slowly and that fits the ones before. */
function proveSource(draft: Draft, sample: Sample): void {
  const { setup, intake, everLiftedOff, contact } = draft.state;
  const stands = !isFast(setup, sample) && Math.abs(sample.verticalSpeedFpm) < STANDING_FPM;
  if (everLiftedOff || contact !== null || setup.scenario.practice.from === 'floor' || !stands) return;
  if (intake.suspect !== null || intake.goodInARow < PROVED_BY) return;
  change(draft, { intake: { ...intake, heightSource: sourceOnGround(setup, sample) } });
}

/** The sink is that of the last sample in the air: on the ground it is over. */
function touched(draft: Draft, sample: Sample, wallS: number, before: Sample): void {
  change(draft, { contact: { timeS: sample.timeS, wallS }, nextSurgeS: null });
  record(draft, 'contact', 'The aeroplane touched the ground.', {
    verticalSpeedFpm: before.verticalSpeedFpm,
    bankDeg: sample.bankDeg,
    indicatedAirspeedKt: sample.indicatedAirspeedKt,
  });
}

function liftingOff(draft: Draft, sample: Sample, heightFt: number): void {
  const { ground, setup } = draft.state;
  const sinceS = ground.airborneSinceS ?? sample.timeS;
  change(draft, { ground: { ...ground, airborneSinceS: sinceS } });
  const roseFt = heightFt - (ground.heightFt ?? heightFt);
  const lasting = sample.timeS - sinceS >= LIFT_OFF_CONFIRMED_S || roseFt >= LIFT_OFF_CONFIRMED_FT;
  if (!lasting || !isFast(setup, sample)) return;
  releaseHeld(draft);
  move(draft, 'lift-off', { everLiftedOff: true });
  const floor = setup.scenario.practice.from === 'floor';
  const text = floor ? 'The climb from the floor began: it counts as the lift-off.' : 'Lift-off.';
  record(draft, 'lift-off', text, { airborneSinceS: sinceS, heightFt });
  const source = sourceWords(setup, draft.state.intake.heightSource);
  if (source !== null) record(draft, 'data-fault', source.text, source.figures);
}

function seekTrigger(draft: Draft, sample: Sample, receivedS: number): void {
  const { state } = draft;
  const due = failureDue(state, sample, receivedS);
  if (due.due) {
    const command = failureCommand(state.setup.drawn, state.setup);
    if (command !== null) fire(draft, command, sample, receivedS, false);
    return;
  }
  const topFt = state.setup.scenario.failure.highestHeightFt;
  if (due.because === 'data' && !state.heldBackTold) {
    change(draft, { heldBackTold: true });
    record(draft, 'data-fault', 'The failure is due but held back: the data are not fit to act on.');
  }
  if (heightOf(state, sample) <= topFt || state.noFailureTold || state.passedTopTold) return;
  if (state.setup.drawn.kind === 'none') {
    move(draft, 'none-drawn', { noFailureTold: true });
    record(draft, 'no-failure-drawn', 'This attempt was drawn without a failure.');
  } else {
    change(draft, { passedTopTold: true });
    record(draft, 'data-fault', `Passed ${inFeet(topFt)}, above which no failure is sent, without one.`);
  }
}
