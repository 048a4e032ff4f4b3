// Whether the failure is due, and which command makes it.
import type { DrawnFailure, Sample } from '@stillprop/contracts';
import { heightInDoubt } from './doubtUnits.js';
import { heightAbove } from './heightAbove.js';
import { intervalS, momentBefore, pace, staleAfterS } from './intake.js';
import type { ExerciseSetup, ExerciseState, FailureOrder, Intake } from './states.js';
import { parted } from './stepChecks.js';

/** A climb: rising at least this fast, and higher than a second ago. */
const CLIMB_FPM = 100;
/** After a fault or a silence: this many good samples, over this much wall time (a backlog comes all at once). */
const GOOD_SAMPLES = 3;
/** So many late samples in a row, and none between that moves time on, may be a time that went back. */
const LATE_SAMPLES = 3;
const QUIET_WALL_S = 0.3;
/** A latency measured at one pace of simulated time holds for paces within this factor. */
const SAME_PACE = 1.5;
/** Wall time of datagram and command on their way, in programs that look every few milliseconds (measured on loopback). */
const WAY_WALL_S = 0.008;
/** A person told to close a throttle has it closed after so long (wall time): common practice, no source. */
const HAND_WALL_S = 1.5;
/** Altitude is held against vertical speed over this time. */
const STORY_S = 6;

export type ClosedGate = 'ground' | 'data' | 'too-high';
export type Due = { readonly due: true } | { readonly due: false; readonly because: 'not-yet' | ClosedGate };

/** Simulated seconds that pass between a command and the fall of power, as well as is known. */
export function latencyS(setup: ExerciseSetup, intake: Intake): number {
  const measured = setup.measuredLatency ?? null;
  const now = pace(intake) ?? 1;
  const ratio = measured === null ? 0 : now / measured.pace;
  if (measured !== null && ratio < SAME_PACE && ratio > 1 / SAME_PACE) return measured.latencyS;
  const byHand = failureCommand(setup.drawn, setup)?.means === 'by-hand';
  return setup.commandLatencyS + now * (byHand ? HAND_WALL_S : WAY_WALL_S);
}

/**
 * Is the failure due with this sample? It is when the height at the moment the command takes effect, in the steady climb
 * now flown, comes within half a sample's climb of the drawn height: then the nearest sample is the one that fires.
 * The caller has seen to it that the aeroplane is armed, airborne and has not had its failure.
 */
export function failureDue(state: ExerciseState, sample: Sample, receivedS: number): Due {
  const { setup, intake } = state;
  const { drawn } = setup;
  const { highestHeightFt } = setup.scenario.failure;
  const heightFt = heightAbove(setup, sample, intake.heightSource);
  if (drawn.kind === 'none' || drawn.heightFt === null) return { due: false, because: 'not-yet' };

  const climbFps = sample.verticalSpeedFpm / 60;
  const secondAgo = momentBefore(intake.moments, 1);
  const climbing = sample.verticalSpeedFpm >= CLIMB_FPM && secondAgo !== null && heightFt > secondAgo.heightFt;
  if (!climbing) return { due: false, because: 'not-yet' };

  const delayS = latencyS(setup, intake);
  const predictedFt = heightFt + climbFps * delayS;
  const stepFt = climbFps * intervalS(setup, intake);
  // Where the drawn height is the highest allowed, a sample earlier: one lost datagram must not carry past it.
  const targetFt = Math.min(drawn.heightFt, highestHeightFt - 1.5 * stepFt);
  if (predictedFt + stepFt / 2 < targetFt || !intake.steady) return { due: false, because: 'not-yet' };
  const closed = closedGate(state, receivedS);
  return closed === null ? { due: true } : { due: false, because: closed };
}

/**
 * What forbids, at this moment, any command that takes power away: the first one, a repeat, one by hand, the low half of
 * a surge. null: nothing does. The caller has seen to it that the lift-off was seen.
 */
export function closedGate({ setup, intake, onGroundSinceS, contact }: ExerciseState, nowS: number): ClosedGate | null {
  const { newest } = intake;
  if (newest === null || onGroundSinceS !== null || contact !== null) return 'ground';
  const climbFps = Math.max(0, newest.verticalSpeedFpm / 60);
  const predictedFt = heightAbove(setup, newest, intake.heightSource) + climbFps * latencyS(setup, intake);
  if (predictedFt > setup.scenario.failure.highestHeightFt) return 'too-high';
  const fresh = intake.advancedS !== null && nowS - intake.advancedS <= staleAfterS(setup);
  const oneHeight = parted(setup, newest, intake.heightSource) === null;
  return fresh && settled(intake, nowS) && storyHolds(intake) && oneHeight && !heightInDoubt(intake) ? null : 'data';
}

/**
 * How this failure is made on a link, or null if the link cannot: a command made for it before the throttle, and a hand on
 * the throttle only where the profile says so. Nobody surges an engine by hand.
 */
export function failureCommand(
  drawn: DrawnFailure,
  { commands, noFailureCommand }: Pick<ExerciseSetup, 'commands' | 'noFailureCommand'>,
): FailureOrder | null {
  const { propeller, powerFraction } = drawn;
  if ((drawn.kind === 'total' || drawn.kind === 'none') && commands.includes('fail')) {
    return { means: 'command', command: 'fail', powerFraction: 0, propeller };
  }
  if (commands.includes('setPower')) return { means: 'command', command: 'setPower', powerFraction, propeller };
  if (noFailureCommand === 'cut-throttle' && commands.includes('throttle')) {
    return { means: 'cut-throttle', command: 'throttle', powerFraction, propeller };
  }
  return noFailureCommand === 'by-hand' && drawn.kind !== 'surging' ? { means: 'by-hand', powerFraction } : null;
}

/** Have data been good for long enough to act on? Not while the newest sample waits for the next to say whether it is right. */
function settled(intake: Intake, nowS: number): boolean {
  if (intake.silent || !intake.steady || intake.suspect !== null || intake.goodInARow < GOOD_SAMPLES) return false;
  if ((intake.lateRun?.count ?? 0) >= LATE_SAMPLES) return false;
  return intake.troubleS === null || nowS - intake.troubleS >= QUIET_WALL_S;
}

/** Over the last seconds, did altitude change as vertical speed said? Catches a value that stands still. */
function storyHolds({ moments }: Intake): boolean {
  const newest = moments.at(-1);
  const old = momentBefore(moments, STORY_S) ?? moments[0];
  if (newest === undefined || old === undefined) return false;
  const roseFt = newest.altitudeFt - old.altitudeFt;
  const climbedFt = newest.climbedFt - old.climbedFt;
  return Math.abs(roseFt - climbedFt) <= 30 + 0.5 * Math.max(Math.abs(roseFt), Math.abs(climbedFt));
}
