// When the power was lost: the moment it starts to fall, from the best channel the recording has.
import type { RecordedEvent } from '@stillprop/contracts';
import { indexAt, samplesWithin, spreadOf } from './columns.js';
import type { Flight } from './flight.js';

export type LossChannel = 'power' | 'rpm' | 'event' | 'command';
export interface PowerLoss {
  readonly atS: number;
  /** What told it. */
  readonly channel: LossChannel;
}

/** Span before a fall in which the power it fell from is read (s). */
const BEFORE_FROM_S = 4;
const BEFORE_TO_S = 2;
/** A fall takes at most this long to be half done (s); it must then hold this long. */
const FALL_WITHIN_S = 3;
const HOLD_S = 0.5;
/** A fall of engine speed that means lost power: a windmilling propeller still turns at well over half. */
const RPM_FALL = 0.15;
/** Least fall of the power fraction that is told apart from a throttle being set. */
const LEAST_POWER_FALL = 0.1;
/** A fall has begun when this share of it is gone, or three times the noise. */
const BEGUN = 0.02;

/**
 * The loss of power: the fall of `powerFraction`, else of `engineRpm`, by at least half of what was drawn (rpm: 15 %),
 * held for 0.5 s; with a recorded command only falls after it count. The time is that at which the fall *begins*,
 * interpolated between the last sample at the old power and the falling ones. Without these channels: where the
 * exercise saw the fall begin (figure `fallS` of its event that power fell, which is itself recorded a second or more
 * later, when the fall was noticed); without that, the moment of the command.
 *
 * @returns null when no failure happened.
 */
export function powerLost(flight: Flight, fromS: number): PowerLoss | null {
  const { events, header } = flight.recording;
  const commandS = events.find(({ code }) => code === 'fail-commanded' || code === 'fail-now')?.timeS ?? null;
  if (commandS === null && header.drawn.kind === 'none') return null;
  const searchS = commandS === null ? fromS : commandS - HOLD_S;
  const fallNeeded = Math.max(LEAST_POWER_FALL, 0.5 * (1 - header.drawn.powerFraction));
  const { powerFraction, engineRpm } = flight;
  const told = powerFraction !== null || engineRpm !== null;
  if (powerFraction !== null) {
    const atS = fallOf(flight, powerFraction, searchS, (before) => fallNeeded * Math.max(before, 0));
    if (atS !== null) return { atS, channel: 'power' };
  } else if (engineRpm !== null) {
    const atS = fallOf(flight, engineRpm, searchS, (before) => RPM_FALL * Math.max(before, 1));
    if (atS !== null) return { atS, channel: 'rpm' };
  }
  const seenS = fallSeen(
    events.find(({ code }) => code === 'power-fell'),
    searchS,
  );
  if (seenS !== null) return { atS: seenS, channel: 'event' };
  const disobeyed = events.some(({ code }) => code === 'not-obeyed');
  return told || disobeyed || commandS === null ? null : { atS: commandS, channel: 'command' };
}

/** Where the exercise saw the fall begin; when it noticed, if that is no time between the search's start and then. */
function fallSeen(event: RecordedEvent | undefined, fromS: number): number | null {
  if (event === undefined) return null;
  const { timeS, figures: { fallS } = {} } = event;
  if (fallS === undefined || fallS < fromS || fallS > (timeS ?? fallS)) return timeS;
  return fallS;
}

/** First sustained fall of a column by what `needed` asks of the level before it: the time at which it begins. */
function fallOf(
  flight: Flight,
  column: Float64Array,
  fromS: number,
  needed: (before: number) => number,
): number | null {
  const { timeS, count } = flight;
  for (let i = Math.max(indexAt(timeS, fromS), 1); i < count; i++) {
    const atS = timeS[i] as number;
    if (atS < fromS) continue;
    const earlier = column[Math.max(indexAt(timeS, atS - FALL_WITHIN_S), 0)] as number;
    const now = column[i] as number;
    if (earlier <= 0 || earlier - now < needed(earlier)) continue;
    const { level, noise } = levelBefore(flight, column, atS);
    const limit = level - needed(level);
    if (level <= 0 || now > limit || !holdsBelow(flight, column, atS, limit)) continue;
    return onset(flight, column, i, level, Math.max(BEGUN * level, 3 * noise));
  }
  return null;
}

function levelBefore(flight: Flight, column: Float64Array, atS: number): { level: number; noise: number } {
  const { timeS } = flight;
  const spread = spreadOf(timeS, column, atS - BEFORE_FROM_S, atS - BEFORE_TO_S);
  if (spread !== null) return { level: spread.mean, noise: spread.deviation };
  return { level: column[Math.max(indexAt(timeS, atS - BEFORE_TO_S), 0)] as number, noise: 0 };
}

function holdsBelow(flight: Flight, column: Float64Array, fromS: number, limit: number): boolean {
  const span = samplesWithin(flight.timeS, fromS, fromS + HOLD_S);
  if (span === null) return false;
  for (let i = span.first; i <= span.last; i++) if ((column[i] as number) > limit) return false;
  return true;
}

/** Back from a sample well into the fall to where it began. */
function onset(flight: Flight, column: Float64Array, fallen: number, level: number, tolerance: number): number {
  const { timeS } = flight;
  let last = fallen - 1;
  while (last > 0 && (column[last] as number) < level - tolerance) last--;
  const low = timeS[last] as number;
  const high = timeS[last + 1] as number;
  const first = column[last + 1] as number;
  const next = column[Math.min(last + 2, column.length - 1)] as number;
  // On a slope: the falling line carried back to the old level. A step leaves only its interval: the middle of it.
  const fallsOn = first - next;
  if (!(fallsOn > tolerance) || last + 2 >= column.length) return (low + high) / 2;
  const back = high - ((level - first) / fallsOn) * ((timeS[last + 2] as number) - high);
  return Math.max(low, Math.min(high, back));
}
