// What a sample says beside the one before: whether the aeroplane can have come from there, and what does not go together.
import type { Sample } from '@stillprop/contracts';
import { distanceFt, FT_PER_NM } from './heightAbove.js';
import type { ExerciseSetup, Fault, HeightSource } from './states.js';
import { inFeet, inSeconds } from './words.js';

// A jump: farther than twice the way that the speed allows, or a time that ran on twice as fast as 20 times real time.
const JUMP_FT = 1000;
const JUMP_CLIMB_FPS = 200;
const SPEED_SLACK_KT = 50;
const JUMP_AHEAD_S = 30;
const JUMP_AHEAD_PACE = 40;
/** A smaller step of time on which the aeroplane hardly moved is the clock's: less than this share of the way, in still air or wind. */
const CLOCK_STEP_S = 2;
const CLOCK_WAY_SHARE = 0.3;
/** A gap: so many usual intervals, and so long, without a sample. */
const GAP_INTERVALS = 4;
const GAP_S = 0.5;
/** Height and altitude may part by this, and by this share of the climb, as pressure altitude does on a warm or cold day. */
const PARTED_FT = 100;
const PARTED_SHARE = 0.1;

/** Why the aeroplane cannot have come from there to here, or null. @param wallS Seconds of wall time between the two. */
export function jumpBetween(from: Sample, to: Sample, wallS: number): Fault | null {
  const stepS = to.timeS - from.timeS;
  if (stepS <= 0) return { name: 'clock', text: 'The time of a sample does not go on.', figures: { stepS } };
  if (stepS > JUMP_AHEAD_S + JUMP_AHEAD_PACE * Math.max(0, wallS)) {
    const text = `A sample's time was ${inSeconds(stepS)} ahead of the one before and was left out until the next one tells.`;
    return { name: 'clock', text, figures: { stepS, wallS } };
  }
  const movedFt = distanceFt(from, to);
  const roseFt = to.altitudeFt - from.altitudeFt;
  const wayFt = ((fastestKt(from, to) + SPEED_SLACK_KT) * FT_PER_NM * stepS) / 3600;
  if (movedFt <= JUMP_FT + 2 * wayFt && Math.abs(roseFt) <= JUMP_FT + JUMP_CLIMB_FPS * stepS) return null;
  const text = `A sample was ${inFeet(movedFt)} away from the one before and ${inFeet(Math.abs(roseFt))} ${roseFt < 0 ? 'below' : 'above'} it, and was left out until the next one tells.`;
  return { name: 'jump', text, figures: { movedFt, roseFt, stepS } };
}

/** What does not go together from one sample to the next, so that it is not acted on; null: all does. */
export function misfit(setup: ExerciseSetup, from: Sample, to: Sample, source: HeightSource): Fault | null {
  const stepS = to.timeS - from.timeS;
  const roseFt = to.altitudeFt - from.altitudeFt;
  const vertical = climbedFt(from, to);
  if (Math.abs(roseFt - vertical) > 60 + 0.5 * Math.abs(vertical) + 15 * stepS) {
    const text = `Altitude changed by ${inFeet(roseFt)} in ${inSeconds(stepS)}, where vertical speed tells ${inFeet(vertical)}.`;
    return { name: 'disagreement', text, figures: { roseFt, climbedFt: vertical, stepS } };
  }
  if (!source.heightAside && from.heightFt !== undefined && to.heightFt !== undefined) {
    const heightRoseFt = to.heightFt - from.heightFt;
    // The ground below may slope.
    if (Math.abs(heightRoseFt - roseFt) > 100 + 60 * stepS) {
      const text = `Height changed by ${inFeet(heightRoseFt)} in ${inSeconds(stepS)}, and altitude by ${inFeet(roseFt)}.`;
      return { name: 'disagreement', text, figures: { heightRoseFt, roseFt, stepS } };
    }
  }
  return clockRanAhead(from, to, stepS) ?? (source.stood === null ? null : parted(setup, to, source));
}

/** Simulated time in which no sample came, though the ones before came often. @param usualS The usual interval. */
export function gapBetween(from: Sample, to: Sample, usualS: number): Fault | null {
  const gapS = to.timeS - from.timeS;
  if (gapS <= Math.max(GAP_S, GAP_INTERVALS * usualS)) return null;
  return { name: 'gap', text: `No sample came for ${inSeconds(gapS)} of simulated time.`, figures: { gapS, usualS } };
}

/** Climb (ft) as vertical speed tells it. */
export function climbedFt(from: Sample, to: Sample): number {
  return (((from.verticalSpeedFpm + to.verticalSpeedFpm) / 2) * (to.timeS - from.timeS)) / 60;
}

function clockRanAhead(from: Sample, to: Sample, stepS: number): Fault | null {
  if (stepS < CLOCK_STEP_S) return null;
  const windKt = from.groundspeedKt === undefined ? SPEED_SLACK_KT : 0;
  const slowestKt = Math.min(
    from.groundspeedKt ?? from.indicatedAirspeedKt,
    to.groundspeedKt ?? to.indicatedAirspeedKt,
  );
  const wayFt = ((slowestKt - windKt) * FT_PER_NM * stepS) / 3600;
  const movedFt = distanceFt(from, to);
  if (wayFt <= 0 || movedFt >= CLOCK_WAY_SHARE * wayFt) return null;
  const text = `The simulator's time went on by ${inSeconds(stepS)}, in which the aeroplane moved only ${inFeet(movedFt)}.`;
  return { name: 'clock', text, figures: { stepS, movedFt } };
}

/**
 * Two heights that were told together on the ground and part in flight: nobody knows which is right. An aeroplane that was
 * never seen to stand is held against the runway itself.
 */
export function parted({ scenario, runway }: ExerciseSetup, sample: Sample, source: HeightSource): Fault | null {
  const stood = source.stood ?? { altitudeFt: runway.elevationFt, heightFt: 0 };
  if (scenario.practice.from === 'floor' || source.heightAside || stood.heightFt === null) return null;
  if (sample.heightFt === undefined) return null;
  const heightFt = sample.heightFt - stood.heightFt;
  const altitudeHeightFt = sample.altitudeFt - stood.altitudeFt;
  const mostFt = PARTED_FT + PARTED_SHARE * Math.max(Math.abs(heightFt), Math.abs(altitudeHeightFt));
  if (Math.abs(heightFt - altitudeHeightFt) <= mostFt) return null;
  const text = `Since the lift-off height rose by ${inFeet(heightFt)} and altitude by ${inFeet(altitudeHeightFt)}: one of them is wrong.`;
  return { name: 'parted', text, figures: { heightFt, altitudeHeightFt } };
}

function fastestKt(from: Sample, to: Sample): number {
  return Math.max(
    ...[from, to].map((at) => Math.max(at.groundspeedKt ?? 0, at.trueAirspeedKt ?? 0, at.indicatedAirspeedKt)),
  );
}
