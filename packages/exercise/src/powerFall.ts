// Whether the power really fell after the command, when, and at what height.
import { FT_PER_NM } from './heightAbove.js';
import type { ExerciseSetup, FallChannel, Fired, Moment, PowerFall } from './states.js';

/** Fallen: more than half of the way to the power commanded. Begun to fall: a quarter of it. */
const FALLEN_SHARE = 0.5;
const BEGUN_SHARE = 0.25;
/** A smaller change of power is no clock for the command's latency. */
const CLEAR_CHANGE = 0.1;
/** Engine speed falls at least by this share when all power goes; a constant-speed propeller may hold it up for longer. */
const RPM_SHARE = 0.2;
/** Without engine channels, the loss of climb and speed is judged over this time. */
const ENERGY_WINDOW_S = 1.5;
/**
 * A governor holds a windmilling propeller at its speed. Then energy tells the loss beside a steady engine speed, where it
 * cannot be the pilot: soon after the first command, nearly down to the glide, over a longer time. Who levels off or
 * pulls up with power trades climb for speed and keeps the energy; only a closed throttle looks the same.
 */
const GOVERNED_SHARE = 0.75;
const GOVERNED_WINDOW_S = 2;
const GOVERNED_WITHIN_S = 6;
const GOVERNED_LEAST_FPS = 10;

export type SeenFall = Omit<PowerFall, 'pace'>;

/**
 * The best channel that came at all since the command. One that misses from the newest sample is waited for: a climb that
 * ends while the engine is told to run is a pilot levelling off. An engine speed of 0 before the failure is none.
 */
export function fallChannel({ since, rpmBefore }: Fired): FallChannel {
  if (since.some(({ powerFraction }) => powerFraction !== null)) return 'power';
  const rpm = rpmBefore ?? since.find(({ engineRpm }) => engineRpm !== null)?.engineRpm ?? 0;
  return rpm > 0 ? 'rpm' : 'energy';
}

/** The fall of power in the moments since the command, or null while there is none. */
export function powerFall(setup: ExerciseSetup, fired: Fired): SeenFall | null {
  const newest = fired.since.at(-1);
  if (newest === undefined || fired.since.length < 2) return null;
  switch (fallChannel(fired)) {
    case 'power':
      return newest.powerFraction === null ? null : fallOfPower(fired, newest.powerFraction);
    case 'rpm':
      return newest.engineRpm === null
        ? null
        : (fallOfRpm(fired, newest.engineRpm) ?? fallBehindGovernor(setup, fired, newest));
    case 'energy':
      return fallOfEnergy(setup, fired, newest, FALLEN_SHARE, ENERGY_WINDOW_S);
  }
}

function fallOfPower(fired: Fired, powerNow: number): SeenFall | null {
  const target = fired.command.powerFraction;
  const change = Math.max(0, (fired.powerBefore ?? 1) - target);
  if (powerNow > target + (1 - FALLEN_SHARE) * change) return null;
  const begunAt = target + (1 - BEGUN_SHARE) * change;
  const power = fired.since.filter(({ powerFraction }) => powerFraction !== null);
  return timedFall(
    fired,
    'power',
    power,
    (moment) => (moment.powerFraction as number) <= begunAt,
    change >= CLEAR_CHANGE,
  );
}

function fallOfRpm(fired: Fired, rpmNow: number): SeenFall | null {
  const told = fired.since.filter(({ engineRpm }) => engineRpm !== null);
  const rpmBefore = fired.rpmBefore ?? (told[0]?.engineRpm as number);
  const fallenAt = rpmBefore * (1 - RPM_SHARE * (1 - fired.command.powerFraction));
  if (rpmNow > fallenAt) return null;
  const begunAt = (rpmBefore + fallenAt) / 2;
  return timedFall(fired, 'rpm', told, (moment) => (moment.engineRpm as number) <= begunAt, true);
}

/** The change lies between the first moment that shows it and the one before: halfway is off by half an interval at most. */
function timedFall(
  fired: Fired,
  channel: FallChannel,
  told: readonly Moment[],
  shows: (moment: Moment) => boolean,
  clear: boolean,
): SeenFall | null {
  const index = told.findIndex((moment, at) => at > 0 && shows(moment));
  const after = told[index];
  const before = told[index - 1];
  if (after === undefined || before === undefined) return null;
  const atS = (before.timeS + after.timeS) / 2;
  return { atS, heightFt: (before.heightFt + after.heightFt) / 2, latencyS: clear ? atS - fired.atS : null, channel };
}

function fallBehindGovernor(setup: ExerciseSetup, fired: Fired, newest: Moment): SeenFall | null {
  const before = fired.energyRateBeforeFps;
  if (before === null || newest.timeS - fired.atS > GOVERNED_WITHIN_S) return null;
  if (before - expectedFps(setup, fired, before) < GOVERNED_LEAST_FPS) return null;
  return fallOfEnergy(setup, fired, newest, GOVERNED_SHARE, GOVERNED_WINDOW_S);
}

/** Energy height climbs by excess power alone: it decays when the power goes, whatever the pilot does with the nose. */
function fallOfEnergy(
  setup: ExerciseSetup,
  fired: Fired,
  newest: Moment,
  share: number,
  windowS: number,
): SeenFall | null {
  const before = fired.energyRateBeforeFps;
  const from = fired.since.findLast((moment) => moment.timeS <= newest.timeS - windowS);
  if (before === null || from === undefined) return null;
  const expected = expectedFps(setup, fired, before);
  const rateFps = (newest.energyHeightFt - from.energyHeightFt) / (newest.timeS - from.timeS);
  if (rateFps > before - share * (before - expected)) return null;
  const top = fired.since.reduce((best, moment) => (moment.energyHeightFt > best.energyHeightFt ? moment : best));
  const onset = expected < 0 ? top : from;
  return { atS: onset.timeS, heightFt: onset.heightFt, latencyS: null, channel: 'energy' };
}

/** Climb of energy height (ft/s) at the power commanded: between the climb before and the glide. */
function expectedFps({ aircraft }: ExerciseSetup, fired: Fired, beforeFps: number): number {
  const glideSinkFps = (aircraft.bestGlideKcas * FT_PER_NM) / 3600 / aircraft.bestGlideRatio;
  return fired.command.powerFraction * (beforeFps + glideSinkFps) - glideSinkFps;
}
