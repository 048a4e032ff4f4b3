// When the power was lost: the moment it starts to fall, from the best channel the recording has.
import type { RecordedEvent, Recording } from '@stillprop/contracts';
import { firstHeld, indexAt, samplesWithin, spreadOf, valueAt } from './columns.js';
import { failureEventS } from './failureEvent.js';
import type { Flight } from './flight.js';
import { contactsAfter, onGroundSamples } from './groundContact.js';

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
/** The exercise sees a loss of all power by this fall of engine speed, a partial loss by its share of it. */
const RPM_SEEN = 0.2;
/** Power that is back for so long is back (s). */
const BACK_S = 3;
/** Between samples farther apart than this nothing is read off a slope (s). */
const GAP_S = 0.45;
/** Least fall of the power fraction that is told apart from a throttle being set. */
const LEAST_POWER_FALL = 0.1;
/** A fall has begun when this share of it is gone, or three times the noise. */
const BEGUN = 0.02;

/**
 * The loss of power: the fall of `powerFraction`, else of `engineRpm`, by at least half of what was drawn (rpm: 15 %),
 * held for 0.5 s; with a recorded command only falls after it count. The time is that at which the fall *begins*,
 * interpolated between the last sample at the old power and the falling ones. A channel that is recorded and did not
 * fall is believed: the exercise's event then counts only where the channel shows it (a slow fall), or where the exercise
 * says that energy told it beside an engine speed that a governor held up (figure `byEnergy`). Without these
 * channels: where the exercise saw the fall begin (figure `fallS` of its event that power fell, which is itself recorded
 * a second or more later, when the fall was noticed); without that, the moment of the command. Once the exercise has said
 * that the simulator did not obey, only a channel that fell by the time of a later event of a fall counts.
 *
 * A recording may hold several attempts. The command of the one that `failureEventS` chooses counts; with no command
 * recorded, the last fall in the air after which the ground was met before the power came back, else the last one.
 * A fall inside a gap of the data is no earlier than its command, and at it when nothing tells more.
 *
 * @returns null when no failure happened.
 */
export function powerLost(flight: Flight, fromS: number): PowerLoss | null {
  const { events, header } = flight.recording;
  const commandS = failureEventS(flight.recording);
  if (commandS === null && header.drawn.kind === 'none') return null;
  const searchS = commandS === null ? fromS : commandS - HOLD_S;
  const ofThis = ({ timeS }: RecordedEvent) => commandS === null || timeS === null || timeS >= searchS;
  const fell = events.find((event) => event.code === 'power-fell' && ofThis(event));
  const disobeyed = didNotObey(flight.recording) !== undefined;
  if (disobeyed && fell === undefined) return null;
  const engine = engineColumn(flight, searchS);
  if (engine !== null) {
    const found =
      commandS === null
        ? lastComplete(flight, engine, fell, searchS)
        : fallInColumn(flight, engine, fell, searchS, commandS);
    const governed = engine.channel === 'rpm' && !disobeyed && fell?.figures?.byEnergy === 1;
    if (governed && (found === null || found.atS > (fell.timeS ?? found.atS))) {
      const seenS = fallSeen(fell, searchS);
      if (seenS !== null) return { atS: seenS, channel: 'event' };
    }
    const late = disobeyed && found !== null && found.atS > (fell?.timeS ?? found.atS);
    return late ? null : found;
  }
  if (disobeyed) return null;
  const seenS = fallSeen(fell, searchS);
  if (seenS !== null) return { atS: seenS, channel: 'event' };
  return commandS === null ? null : { atS: commandS, channel: 'command' };
}

/** The exercise's word that the simulator did not obey the command to fail the engine; undefined: it has not said so. */
export function didNotObey({ events }: Recording): RecordedEvent | undefined {
  return events.find(({ code }) => code === 'not-obeyed');
}

interface EngineColumn {
  readonly channel: 'power' | 'rpm';
  readonly column: Float64Array;
  /** Fall asked for, by the level before it. */
  needed(before: number): number;
  /** Fall by which the exercise sees it. */
  readonly seenShare: number;
}

/** What tells of the engine; an engine speed that reads 0 before the failure tells nothing. */
function engineColumn({ recording, powerFraction, engineRpm, timeS }: Flight, searchS: number): EngineColumn | null {
  const lostShare = 1 - recording.header.drawn.powerFraction;
  if (powerFraction !== null) {
    const needed = (before: number) => Math.max(LEAST_POWER_FALL, 0.5 * lostShare) * Math.max(before, 0);
    return { channel: 'power', column: powerFraction, needed, seenShare: 0.5 * lostShare };
  }
  if (engineRpm === null || valueAt(timeS, engineRpm, searchS) <= 0) return null;
  const needed = (before: number) => RPM_FALL * Math.max(before, 1);
  return { channel: 'rpm', column: engineRpm, needed, seenShare: RPM_SEEN * lostShare };
}

/** Every fall of what tells of the engine that begins in the air; one ends where the power is back for 3 s. */
export function fallsInColumn(flight: Flight, fromS: number): { readonly atS: number; readonly backS: number }[] {
  const engine = engineColumn(flight, fromS);
  if (engine === null) return [];
  const { timeS, count } = flight;
  const down = onGroundSamples(flight);
  const endS = timeS[count - 1] ?? fromS;
  const falls: { atS: number; backS: number }[] = [];
  for (let atS = fallOf(flight, engine.column, fromS, engine.needed, null); atS !== null; ) {
    const level = valueAt(timeS, engine.column, atS);
    const limit = level - engine.needed(level) / 2;
    const backS = firstHeld(timeS, engine.column, limit, 'above', BACK_S, atS + FALL_WITHIN_S, endS) ?? endS;
    if (down[Math.max(indexAt(timeS, atS), 0)] !== 1) falls.push({ atS, backS });
    atS = backS < endS ? fallOf(flight, engine.column, backS + BEFORE_FROM_S, engine.needed, null) : null;
  }
  return falls;
}

/** With nobody to say which fall was the failure. */
function lastComplete(
  flight: Flight,
  engine: EngineColumn,
  fell: RecordedEvent | undefined,
  fromS: number,
): PowerLoss | null {
  const falls = fallsInColumn(flight, fromS);
  if (falls.length < 2) return fallInColumn(flight, engine, fell, fromS, null);
  const complete = falls.findLast(({ atS, backS }) => {
    const landed = contactsAfter(flight, atS);
    return landed !== null && landed.contactS <= backS;
  });
  return { atS: (complete ?? (falls.at(-1) as { atS: number })).atS, channel: engine.channel };
}

/** The sharp fall in the channel; else a slow one that the exercise saw and the channel shows. */
function fallInColumn(
  flight: Flight,
  { channel, column, needed, seenShare }: EngineColumn,
  fell: RecordedEvent | undefined,
  searchS: number,
  commandS: number | null,
): PowerLoss | null {
  const atS = fallOf(flight, column, searchS, needed, commandS);
  if (atS !== null) return { atS, channel: atS === commandS ? 'command' : channel };
  const seenS = fallSeen(fell, searchS);
  if (seenS === null) return null;
  const before = valueAt(flight.timeS, column, searchS);
  const after = valueAt(flight.timeS, column, fell?.timeS ?? seenS);
  return before > 0 && before - after >= seenShare * before ? { atS: seenS, channel: 'event' } : null;
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
  commandS: number | null,
): number | null {
  const { timeS, count } = flight;
  for (let i = Math.max(indexAt(timeS, fromS), 1); i < count; i++) {
    const atS = timeS[i] as number;
    if (atS < fromS) continue;
    // A gap just before is no time in which the level was seen: what is compared lies before it.
    const gapS = Math.max(atS - (timeS[i - 1] as number) - GAP_S, 0);
    const earlier = column[Math.max(indexAt(timeS, atS - gapS - FALL_WITHIN_S), 0)] as number;
    const now = column[i] as number;
    if (earlier <= 0 || earlier - now < needed(earlier)) continue;
    const { level, noise } = levelBefore(flight, column, atS - gapS);
    const limit = level - needed(level);
    if (level <= 0 || now > limit || !holdsBelow(flight, column, atS, limit)) continue;
    return onset(flight, column, i, level, Math.max(BEGUN * level, 3 * noise), commandS);
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
function onset(
  flight: Flight,
  column: Float64Array,
  fallen: number,
  level: number,
  tolerance: number,
  commandS: number | null,
): number {
  const { timeS } = flight;
  let last = fallen - 1;
  while (last > 0 && (column[last] as number) < level - tolerance) last--;
  const low = timeS[last] as number;
  const high = timeS[last + 1] as number;
  if (high - low > GAP_S) return commandS === null ? (low + high) / 2 : Math.max(low, Math.min(high, commandS));
  const first = column[last + 1] as number;
  const next = column[Math.min(last + 2, column.length - 1)] as number;
  // On a slope: the falling line carried back to the old level. A step leaves only its interval: the middle of it.
  const fallsOn = first - next;
  if (!(fallsOn > tolerance) || last + 2 >= column.length) return (low + high) / 2;
  const back = high - ((level - first) / fallsOn) * ((timeS[last + 2] as number) - high);
  return Math.max(low, Math.min(high, back));
}
