// What ends an attempt by itself, looked for with each sample after the lift-off.
import type { Sample } from '@stillprop/contracts';
import { change, type Draft, record } from './draft.js';
import { distanceFt, FT_PER_NM, heightOf } from './heightAbove.js';
import { momentBefore } from './intake.js';
import type { ExerciseState, Fired } from './states.js';
import type { ClosingReason } from './stateTable.js';
import { inFeet } from './words.js';

/**
 * Farther than this from the take-off end, and besides than a climb at the standard gradient of departures has led, no
 * failure and no return is to be expected any more. 3.3 %: ICAO Doc 8168, procedure design gradient (from memory).
 */
const AREA_NM = 6;
const SHALLOWEST_CLIMB = 0.033;
const STANDING_FPS = 5;
const STANDING_S = 2;
const ROLLED_LONG_ENOUGH_S = 30;
const GOING_AROUND_FPM = 300;
const GOING_AROUND_FT = 100;
const POWER_BACK_SHARE = 0.8;
const RPM_BACK_SHARE = 0.95;
const BACK_FOR_S = 1;

export interface End {
  readonly reason: ClosingReason;
  readonly text: string;
}

/** Why this sample ends the attempt, or null while it goes on. Notes on the way that power came back. */
export function endOf(draft: Draft, sample: Sample): End | null {
  const { setup, everLiftedOff, fall, fired, noFailureTold } = draft.state;
  if (!everLiftedOff) return null;
  const { practice } = setup.scenario;
  if (practice.from === 'floor') {
    if ((fired !== null || noFailureTold) && heightOf(draft.state, sample) <= 0) {
      return { reason: 'floor', text: `The floor at ${inFeet(practice.floorAltitudeFt)} was reached.` };
    }
  } else if (setup.runway.start !== undefined) {
    const mostNm = areaNm(setup.scenario.failure.highestHeightFt);
    if (distanceFt(setup.runway.start, sample) > mostNm * FT_PER_NM) {
      return { reason: 'left-area', text: `The aeroplane is more than ${mostNm} nm from the runway.` };
    }
  }
  if (stopped(draft, sample)) return { reason: 'stopped', text: 'The aeroplane is on the ground and has stopped.' };
  return fall === null ? null : goAround(draft, sample);
}

/** Room to climb to the highest height at which a failure may come, and to fly on from there; whole nautical miles. */
function areaNm(highestHeightFt: number): number {
  return Math.ceil(AREA_NM + highestHeightFt / SHALLOWEST_CLIMB / FT_PER_NM);
}

function stopped(draft: Draft, sample: Sample): boolean {
  const { onGroundSinceS, contact, intake } = draft.state;
  if (onGroundSinceS === null) return false;
  if (contact !== null && sample.timeS - onGroundSinceS >= ROLLED_LONG_ENOUGH_S) return true;
  const before = momentBefore(intake.moments, STANDING_S);
  if (before === null || before.timeS < onGroundSinceS) return false;
  return distanceFt(before, sample) / (sample.timeS - before.timeS) < STANDING_FPS;
}

/** For a second, by power or, on a link that tells the fall by engine speed, by that: one wild value is no power. */
function powerIsBack({ intake, fall }: ExerciseState, { powerBefore, rpmBefore, command }: Fired): boolean {
  const newest = intake.moments.at(-1);
  const from = momentBefore(intake.moments, BACK_FOR_S);
  if (newest === undefined || from === null || fall === null || from.timeS < fall.atS) return false;
  const lately = intake.moments.filter(({ timeS }) => timeS >= from.timeS);
  const whole = powerBefore ?? 1;
  const power = lately.flatMap(({ powerFraction }) => (powerFraction === null ? [] : [powerFraction]));
  if (power.length > 0) {
    const backAt = whole * POWER_BACK_SHARE;
    return newest.powerFraction !== null && command.powerFraction < backAt && power.every((each) => each >= backAt);
  }
  const rpm = lately.flatMap(({ engineRpm }) => (engineRpm === null ? [] : [engineRpm]));
  if (fall.channel !== 'rpm' || rpmBefore === null || rpm.length === 0) return false;
  return newest.engineRpm !== null && rpm.every((each) => each >= rpmBefore * RPM_BACK_SHARE);
}

/** Power that came back, by the instructor's word or by itself, and a climb on it. */
function goAround(draft: Draft, sample: Sample): End | null {
  const { fired, restored } = draft.state;
  const heightFt = heightOf(draft.state, sample);
  if (restored === null) {
    const surging = draft.state.nextSurgeS !== null || draft.state.surges > 0;
    if (fired !== null && !surging && powerIsBack(draft.state, fired)) {
      change(draft, { restored: { lowestHeightFt: heightFt } });
      record(draft, 'restored', 'Power came back without the word of the instructor.', { heightFt });
    }
    return null;
  }
  const lowestHeightFt = Math.min(restored.lowestHeightFt, heightFt);
  change(draft, { restored: { lowestHeightFt } });
  if (sample.verticalSpeedFpm < GOING_AROUND_FPM || heightFt < lowestHeightFt + GOING_AROUND_FT) return null;
  const text = 'Power came back and the aeroplane climbed away.';
  record(draft, 'go-around', text, { lowestHeightFt, heightFt });
  return { reason: 'went-around', text };
}
