// Which samples are taken: late and doubled ones dropped, jumps held until the next sample confirms them, faults counted.
import type { Sample } from '@stillprop/contracts';
import { distanceFt, energyHeightFt, FT_PER_NM, heightAbove } from './heightAbove.js';
import type { ExerciseSetup, FaultName, Intake, Moment, PacePoint } from './states.js';

const KEPT_S = 8;
const ANCHOR_SPACING_S = 0.1;
const INTERVALS_KEPT = 5;
/** Pace is told over one to two of these wall times; samples of fast simulators come in bursts. */
const PACE_OVER_S = 2;
const PACE_AT_LEAST_OVER_S = 0.2;
/** Wall time without data after which it counts as stale; slower links get three of their intervals. */
const STALE_S = 1;
// A jump: farther than twice the way that the speed allows, or a time that ran on twice as fast as 20 times real time.
const JUMP_FT = 1000;
const JUMP_CLIMB_FPS = 200;
const SPEED_SLACK_KT = 50;
const JUMP_AHEAD_S = 30;
const JUMP_AHEAD_PACE = 40;
// A simulator that started anew: time went back and goes on from there. Reordering never lasts that long.
const ANEW_SAMPLES = 5;
const ANEW_WALL_S = 1;
const ANEW_SAMPLES_BEFORE_LIFT_OFF = 3;
const ANEW_BACK_S = 5;

export const NO_FAULTS: Intake['faults'] = { duplicate: 0, late: 0, jump: 0, disagreement: 0 };

export type Received =
  | { readonly kind: 'taken'; readonly intake: Intake; readonly fault: FaultName | null }
  | { readonly kind: 'dropped'; readonly intake: Intake; readonly fault: FaultName | null }
  /** The simulator started anew; the sample is the first of the new run. */
  | { readonly kind: 'anew'; readonly intake: Intake; readonly text: string };

export function emptyIntake(): Intake {
  return {
    newest: null,
    advancedS: null,
    heardS: null,
    moments: [],
    recentIntervalsS: [],
    pacePoints: [],
    goodInARow: 0,
    troubleS: null,
    suspect: null,
    lateRun: null,
    silent: false,
    faults: NO_FAULTS,
    silences: 0,
  };
}

/** Takes, drops or holds one sample. `beforeLiftOff`: a restart is believed sooner, because nothing is lost by it. */
export function receive(
  setup: ExerciseSetup,
  before: Intake,
  sample: Sample,
  receivedS: number,
  beforeLiftOff: boolean,
): Received {
  const intake = { ...before, heardS: receivedS };
  const { newest } = intake;
  if (newest === null) return { kind: 'taken', intake: taken(setup, intake, sample, receivedS, true), fault: null };
  if (sample.timeS === newest.timeS) {
    return { kind: 'dropped', intake: counted(intake, 'duplicate'), fault: 'duplicate' };
  }
  if (sample.timeS < newest.timeS) return late(setup, intake, newest, sample, receivedS, beforeLiftOff);

  const wallS = receivedS - (intake.advancedS ?? receivedS);
  if (!follows(newest, sample, wallS)) {
    if (intake.suspect !== null && follows(intake.suspect, sample, wallS)) {
      return {
        kind: 'anew',
        intake: anew(setup, intake, sample, receivedS),
        text: 'The aeroplane was moved to another place.',
      };
    }
    return { kind: 'dropped', intake: { ...counted(intake, 'jump'), suspect: sample }, fault: 'jump' };
  }
  const fits = stepFits(newest, sample);
  const next = taken(setup, { ...intake, suspect: null, lateRun: null }, sample, receivedS, fits);
  return { kind: 'taken', intake: fits ? next : counted(next, 'disagreement'), fault: fits ? null : 'disagreement' };
}

/** Median seconds between samples, or what the link promises. */
export function intervalS(setup: ExerciseSetup, intake: Intake): number {
  const sorted = [...intake.recentIntervalsS].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 1 / setup.expectedRateHz;
}

/** Wall seconds without data after which data is stale. */
export function staleAfterS(setup: ExerciseSetup): number {
  return Math.max(STALE_S, 3 / setup.expectedRateHz);
}

/** The newest kept moment at least so old (simulated seconds). */
export function momentBefore(moments: readonly Moment[], ageS: number): Moment | null {
  const newest = moments.at(-1);
  if (newest === undefined) return null;
  return moments.findLast((moment) => moment.timeS <= newest.timeS - ageS) ?? null;
}

/** Simulated seconds in a second of wall time; null: too little seen to tell. */
export function pace(intake: Intake): number | null {
  const first = intake.pacePoints[0];
  const last = intake.moments.at(-1);
  if (first === undefined || last === undefined) return null;
  const wallS = last.receivedS - first.receivedS;
  return wallS < PACE_AT_LEAST_OVER_S ? null : (last.timeS - first.timeS) / wallS;
}

function late(
  setup: ExerciseSetup,
  intake: Intake,
  newest: Sample,
  sample: Sample,
  receivedS: number,
  beforeLiftOff: boolean,
): Received {
  const run = intake.lateRun;
  const lateRun =
    run !== null && sample.timeS > run.timeS
      ? { count: run.count + 1, timeS: sample.timeS, sinceS: run.sinceS }
      : { count: 1, timeS: sample.timeS, sinceS: receivedS };
  const soon =
    beforeLiftOff && lateRun.count >= ANEW_SAMPLES_BEFORE_LIFT_OFF && newest.timeS - sample.timeS > ANEW_BACK_S;
  if (soon || (lateRun.count >= ANEW_SAMPLES && receivedS - lateRun.sinceS >= ANEW_WALL_S)) {
    return { kind: 'anew', intake: anew(setup, intake, sample, receivedS), text: "The simulator's time went back." };
  }
  return { kind: 'dropped', intake: { ...counted(intake, 'late'), lateRun }, fault: 'late' };
}

function anew(setup: ExerciseSetup, intake: Intake, sample: Sample, receivedS: number): Intake {
  const { silences, lateRun, suspect } = intake;
  // What was taken for late or for a jump was the new run beginning: no fault of anybody's.
  const late = intake.faults.late - (lateRun?.count ?? 0);
  const jump = intake.faults.jump - (suspect === null ? 0 : 1);
  return taken(
    setup,
    { ...emptyIntake(), faults: { ...intake.faults, late, jump }, silences },
    sample,
    receivedS,
    true,
  );
}

function taken(setup: ExerciseSetup, intake: Intake, sample: Sample, receivedS: number, fits: boolean): Intake {
  const { newest, moments } = intake;
  const last = moments.at(-1);
  const stepS = newest === null ? 0 : sample.timeS - newest.timeS;
  const moment: Moment = {
    timeS: sample.timeS,
    receivedS,
    heightFt: heightAbove(setup, sample),
    altitudeFt: sample.altitudeFt,
    energyHeightFt: energyHeightFt(sample),
    climbedFt: last === undefined || newest === null ? 0 : last.climbedFt + climbedFt(newest, sample),
    powerFraction: sample.powerFraction ?? null,
    engineRpm: sample.engineRpm ?? null,
    latitudeDeg: sample.latitudeDeg,
    longitudeDeg: sample.longitudeDeg,
  };
  const afterSilence = intake.silent || receivedS - (intake.advancedS ?? receivedS) > staleAfterS(setup);
  return {
    ...intake,
    newest: sample,
    heardS: receivedS,
    advancedS: receivedS,
    moments: appended(moments, moment),
    recentIntervalsS: newest === null ? [] : [...intake.recentIntervalsS, stepS].slice(-INTERVALS_KEPT),
    pacePoints: pacePoints(afterSilence ? [] : intake.pacePoints, { timeS: sample.timeS, receivedS }),
    goodInARow: fits && !afterSilence ? intake.goodInARow + 1 : 0,
    troubleS: fits && !afterSilence && newest !== null ? intake.troubleS : receivedS,
    silent: false,
  };
}

function pacePoints(points: readonly PacePoint[], now: PacePoint): readonly PacePoint[] {
  const last = points.at(-1);
  return last !== undefined && now.receivedS - last.receivedS < PACE_OVER_S ? points : [...points, now].slice(-2);
}

/** The last entry is always the newest moment; it stays as an anchor once the one before it is old enough. */
function appended(moments: readonly Moment[], moment: Moment): Moment[] {
  const last = moments.at(-1);
  const anchor = moments.at(-2);
  const replace = last !== undefined && anchor !== undefined && last.timeS - anchor.timeS < ANCHOR_SPACING_S;
  const from = moments.findIndex((old) => old.timeS >= moment.timeS - KEPT_S);
  return [...moments.slice(from < 0 ? moments.length : from, replace ? -1 : undefined), moment];
}

/** Could the aeroplane have come from there to here? */
function follows(from: Sample, to: Sample, wallS: number): boolean {
  const stepS = to.timeS - from.timeS;
  if (stepS <= 0 || stepS > JUMP_AHEAD_S + JUMP_AHEAD_PACE * Math.max(0, wallS)) return false;
  const speedKt = Math.max(
    ...[from, to].map((at) => Math.max(at.groundspeedKt ?? 0, at.trueAirspeedKt ?? 0, at.indicatedAirspeedKt)),
  );
  const wayFt = ((speedKt + SPEED_SLACK_KT) * FT_PER_NM * stepS) / 3600;
  return (
    distanceFt(from, to) <= JUMP_FT + 2 * wayFt &&
    Math.abs(to.altitudeFt - from.altitudeFt) <= JUMP_FT + JUMP_CLIMB_FPS * stepS
  );
}

/** Do altitude, vertical speed and height tell the same story from one sample to the next? */
function stepFits(from: Sample, to: Sample): boolean {
  const stepS = to.timeS - from.timeS;
  const roseFt = to.altitudeFt - from.altitudeFt;
  const climbed = climbedFt(from, to);
  if (Math.abs(roseFt - climbed) > 60 + 0.5 * Math.abs(climbed) + 15 * stepS) return false;
  if (from.heightFt === undefined || to.heightFt === undefined) return true;
  return Math.abs(to.heightFt - from.heightFt - roseFt) <= 100 + 60 * stepS; // the ground below may slope
}

function climbedFt(from: Sample, to: Sample): number {
  return (((from.verticalSpeedFpm + to.verticalSpeedFpm) / 2) * (to.timeS - from.timeS)) / 60;
}

function counted(intake: Intake, fault: FaultName): Intake {
  return { ...intake, faults: { ...intake.faults, [fault]: intake.faults[fault] + 1 } };
}
