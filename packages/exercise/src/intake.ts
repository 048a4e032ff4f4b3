// Which samples are taken: late and doubled ones dropped, jumps held until the next sample confirms them, faults counted.
import type { Sample } from '@stillprop/contracts';
import { energyHeightFt, heightAbove, UNPROVED_SOURCE } from './heightAbove.js';
import type { Doubts, ExerciseSetup, Fault, FaultName, Intake, Moment, PacePoint } from './states.js';
import { climbedFt, gapBetween, jumpBetween, misfit } from './stepChecks.js';
import { readable } from './unreadable.js';
import { inSeconds } from './words.js';

const KEPT_S = 8;
const ANCHOR_SPACING_S = 0.1;
const INTERVALS_KEPT = 5;
/** Pace is told over one to two of these wall times; samples of fast simulators come in bursts. */
const PACE_OVER_S = 2;
const PACE_AT_LEAST_OVER_S = 0.2;
/** Wall time without data after which it counts as stale; slower links get three of their intervals. */
const STALE_S = 1;
// A simulator that started anew: time went back and goes on from there. Reordering never lasts that long.
const ANEW_SAMPLES = 5;
const ANEW_WALL_S = 1;
const ANEW_SAMPLES_BEFORE_LIFT_OFF = 3;
const ANEW_BACK_S = 5;

/** A height that is farther than this from the one before and the climb since, is a step. */
const STEADY_FT = 10;

export const NO_FAULTS: Intake['faults'] = {
  duplicate: 0,
  late: 0,
  jump: 0,
  clock: 0,
  gap: 0,
  pause: 0,
  disagreement: 0,
  parted: 0,
  unreadable: 0,
};
export const NO_DOUBTS: Doubts = { lookedS: null, runs: {}, standing: [], recorded: [] };

export type Received =
  | { readonly kind: 'taken'; readonly intake: Intake; readonly sample: Sample; readonly faults: readonly Fault[] }
  | { readonly kind: 'dropped'; readonly intake: Intake; readonly faults: readonly Fault[] }
  /** The simulator started anew; the sample is the first of the new run. */
  | { readonly kind: 'anew'; readonly intake: Intake; readonly sample: Sample; readonly text: string };

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
    steady: false,
    suspect: null,
    lateRun: null,
    silent: false,
    paused: false,
    sameTime: 0,
    heightSource: UNPROVED_SOURCE,
    doubts: NO_DOUBTS,
    faults: NO_FAULTS,
    silences: 0,
  };
}

/** Takes, drops or holds one sample. `beforeLiftOff`: a restart is believed sooner, because nothing is lost by it. */
export function receive(
  setup: ExerciseSetup,
  before: Intake,
  told: Sample,
  receivedS: number,
  beforeLiftOff: boolean,
): Received {
  const { sample, fault: unreadable } = readable(told);
  const heard = { ...before, heardS: receivedS };
  const intake = unreadable === null ? heard : counted(heard, unreadable);
  const faults = unreadable === null ? [] : [unreadable];
  if (sample === null) return { kind: 'dropped', intake, faults };
  const { newest, suspect } = intake;
  if (newest === null) return { kind: 'taken', intake: taken(setup, intake, sample, receivedS, true), sample, faults };
  if (sample.timeS === newest.timeS) return sameTime(setup, intake, receivedS);
  if (sample.timeS < newest.timeS) return late(setup, intake, newest, sample, receivedS, beforeLiftOff);

  const wallS = receivedS - (intake.advancedS ?? receivedS);
  const jump = jumpBetween(newest, sample, wallS);
  if (jump !== null) {
    if (suspect !== null && jumpBetween(suspect, sample, wallS) === null) {
      const ahead = jumpBetween(newest, suspect, wallS)?.name === 'clock';
      const text = ahead ? "The simulator's time jumped ahead." : 'The aeroplane was moved to another place.';
      return { kind: 'anew', intake: anew(setup, intake, sample, receivedS), sample, text };
    }
    return { kind: 'dropped', intake: { ...counted(intake, jump), suspect: sample }, faults: [...faults, jump] };
  }
  const found = misfit(setup, newest, sample, intake.heightSource);
  const gap = gapBetween(newest, sample, intervalS(setup, intake));
  const others = [gap, resumed(intake, wallS), doubled(intake), found];
  const here = others.filter((fault) => fault !== null);
  const next = taken(setup, { ...intake, suspect: null, lateRun: null }, sample, receivedS, found === null);
  const all = here.filter(({ name }) => name !== 'pause' && name !== 'duplicate').reduce(counted, next);
  // What went on in a gap is not known, so that nothing holds its first samples up but the next ones.
  const settling = gap === null ? all : { ...all, goodInARow: 0 };
  return { kind: 'taken', intake: settling, sample, faults: [...faults, ...here] };
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

/** The newest time again: a doubled sample, or, when it goes on, a simulator that stands still. */
function sameTime(setup: ExerciseSetup, intake: Intake, receivedS: number): Received {
  const again = { ...intake, sameTime: intake.sameTime + 1 };
  if (intake.paused) return { kind: 'dropped', intake: again, faults: [] };
  const stillS = receivedS - (intake.advancedS ?? receivedS);
  if (stillS <= staleAfterS(setup)) {
    const faults = { ...intake.faults, duplicate: intake.faults.duplicate + 1 };
    return { kind: 'dropped', intake: { ...again, faults }, faults: [] };
  }
  const text = `The simulator's time has stood still for ${inSeconds(stillS)}: it is paused, or its clock does not run.`;
  const pause: Fault = { name: 'pause', text, figures: { stillS } };
  // What was taken for doubled samples was the pause beginning.
  const faults = { ...intake.faults, duplicate: Math.max(0, intake.faults.duplicate - intake.sameTime) };
  return { kind: 'dropped', intake: counted({ ...again, paused: true, faults }, pause), faults: [pause] };
}

function resumed({ paused }: Intake, wallS: number): Fault | null {
  if (!paused) return null;
  const text = `The simulator's time goes on after a pause of ${inSeconds(wallS)}.`;
  return { name: 'pause', text, figures: { pausedS: wallS } };
}

/** Told when time has moved on: until then it may be a pause. */
function doubled({ paused, sameTime, faults }: Intake): Fault | null {
  if (paused || sameTime === 0) return null;
  const text =
    'A sample had the same time as the one before: it came twice, or the time counts too coarsely. It was left out.';
  return { name: 'duplicate', text, figures: { count: faults.duplicate } };
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
    const text = "The simulator's time went back.";
    return { kind: 'anew', intake: anew(setup, intake, sample, receivedS), sample, text };
  }
  const behindS = newest.timeS - sample.timeS;
  const text = `A sample came late, or time went back by ${inSeconds(behindS)}: it was left out.`;
  const fault: Fault = { name: 'late', text, figures: { behindS } };
  return { kind: 'dropped', intake: { ...counted(intake, fault), lateRun }, faults: [fault] };
}

function anew(setup: ExerciseSetup, intake: Intake, sample: Sample, receivedS: number): Intake {
  const { silences, lateRun, suspect } = intake;
  // What was taken for late or for a jump was the new run beginning: no fault of anybody's.
  const late = intake.faults.late - (lateRun?.count ?? 0);
  const suspected = suspect === null || intake.newest === null ? null : jumpBetween(intake.newest, suspect, 0);
  const jump = Math.max(0, intake.faults.jump - (suspected?.name === 'jump' ? 1 : 0));
  const clock = Math.max(0, intake.faults.clock - (suspected?.name === 'clock' ? 1 : 0));
  return taken(
    setup,
    { ...emptyIntake(), faults: { ...intake.faults, late, jump, clock }, silences },
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
    heightFt: heightAbove(setup, sample, intake.heightSource),
    altitudeFt: sample.altitudeFt,
    energyHeightFt: energyHeightFt(sample),
    climbedFt: last === undefined || newest === null ? 0 : last.climbedFt + climbedFt(newest, sample),
    powerFraction: sample.powerFraction ?? null,
    engineRpm: sample.engineRpm ?? null,
    latitudeDeg: sample.latitudeDeg,
    longitudeDeg: sample.longitudeDeg,
    headingDeg: sample.headingDeg,
    bankDeg: sample.bankDeg,
    indicatedAirspeedKt: sample.indicatedAirspeedKt,
    groundspeedKt: sample.groundspeedKt ?? null,
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
    steady: newest !== null && last !== undefined && steadily(last, moment),
    troubleS: fits && !afterSilence && newest !== null ? intake.troubleS : receivedS,
    silent: false,
    paused: false,
    sameTime: 0,
  };
}

/** Coarse altitudes move in steps, so a step is no fault; but nothing is fired on the sample that makes one. */
function steadily(from: Moment, to: Moment): boolean {
  const climbed = to.climbedFt - from.climbedFt;
  return Math.abs(to.heightFt - from.heightFt - climbed) <= STEADY_FT + 0.5 * Math.abs(climbed);
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

function counted(intake: Intake, { name }: { readonly name: FaultName }): Intake {
  return { ...intake, faults: { ...intake.faults, [name]: intake.faults[name] + 1 } };
}
