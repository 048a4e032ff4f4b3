// Whether the power really fell after the command, when, and at what height.
import { FT_PER_NM } from './heightAbove.js';
import type { ExerciseSetup, Fired, Moment, PowerFall } from './states.js';

/** Fallen: more than half of the way to the power commanded. Begun to fall: a quarter of it. */
const FALLEN_SHARE = 0.5;
const BEGUN_SHARE = 0.25;
/** A smaller change of power is no clock for the command's latency. */
const CLEAR_CHANGE = 0.1;
/** Engine speed falls at least by this share when all power goes; a constant-speed propeller may hold it up for longer. */
const RPM_SHARE = 0.2;
/** Without engine channels, the loss of climb and speed is judged over this time. */
const ENERGY_WINDOW_S = 1.5;

export type SeenFall = Omit<PowerFall, 'pace'>;

/** The fall of power in the moments since the command, or null while there is none. */
export function powerFall(setup: ExerciseSetup, fired: Fired): SeenFall | null {
  const newest = fired.since.at(-1);
  if (newest === undefined || fired.since.length < 2) return null;
  if (newest.powerFraction !== null) return fallOfPower(fired, newest.powerFraction);
  return fallOfRpm(fired, newest) ?? fallOfEnergy(setup, fired, newest);
}

/** Can this link show a fall only by climb and speed decaying? That takes longer to see. */
export function seesOnlyEnergy({ since }: Fired): boolean {
  const newest = since.at(-1);
  return newest === undefined || newest.powerFraction === null;
}

function fallOfPower(fired: Fired, powerNow: number): SeenFall | null {
  const target = fired.command.powerFraction;
  const change = Math.max(0, (fired.powerBefore ?? 1) - target);
  if (powerNow > target + (1 - FALLEN_SHARE) * change) return null;
  const begunAt = target + (1 - BEGUN_SHARE) * change;
  return timedFall(fired, (moment) => (moment.powerFraction ?? 1) <= begunAt, change >= CLEAR_CHANGE);
}

function fallOfRpm(fired: Fired, newest: Moment): SeenFall | null {
  if (fired.rpmBefore === null || newest.engineRpm === null || fired.rpmBefore <= 0) return null;
  const fallenAt = fired.rpmBefore * (1 - RPM_SHARE * (1 - fired.command.powerFraction));
  if (newest.engineRpm > fallenAt) return null;
  const begunAt = (fired.rpmBefore + fallenAt) / 2;
  return timedFall(fired, (moment) => (moment.engineRpm ?? Number.POSITIVE_INFINITY) <= begunAt, true);
}

/** The change lies between the first moment that shows it and the one before: halfway is off by half an interval at most. */
function timedFall(fired: Fired, shows: (moment: Moment) => boolean, clear: boolean): SeenFall | null {
  const index = fired.since.findIndex((moment, at) => at > 0 && shows(moment));
  const after = fired.since[index];
  const before = fired.since[index - 1];
  if (after === undefined || before === undefined) return null;
  const atS = (before.timeS + after.timeS) / 2;
  return { atS, heightFt: (before.heightFt + after.heightFt) / 2, latencyS: clear ? atS - fired.atS : null };
}

/** Energy height climbs by excess power alone: it decays when the power goes, whatever the pilot does with the nose. */
function fallOfEnergy(setup: ExerciseSetup, fired: Fired, newest: Moment): SeenFall | null {
  const before = fired.energyRateBeforeFps;
  const from = fired.since.findLast((moment) => moment.timeS <= newest.timeS - ENERGY_WINDOW_S);
  if (before === null || from === undefined) return null;
  const { bestGlideKcas, bestGlideRatio } = setup.aircraft;
  const glideSinkFps = (bestGlideKcas * FT_PER_NM) / 3600 / bestGlideRatio;
  const expected = fired.command.powerFraction * (before + glideSinkFps) - glideSinkFps;
  const rateFps = (newest.energyHeightFt - from.energyHeightFt) / (newest.timeS - from.timeS);
  if (rateFps > (before + expected) / 2) return null;
  const top = fired.since.reduce((best, moment) => (moment.energyHeightFt > best.energyHeightFt ? moment : best));
  const onset = expected < 0 ? top : from;
  return { atS: onset.timeS, heightFt: onset.heightFt, latencyS: null };
}
