// Leaving and meeting the ground: lift-off, first and last contact, stop.
import { indexAt, samplesWithin } from './columns.js';
import type { Flight } from './flight.js';
import { trackContact } from './trackContact.js';

/** Without an on-ground channel: airborne above this height over where it stood, on the ground below the lower one. */
const AIRBORNE_FT = 10;
const TOUCH_FT = 1;
/** Spells in the air shorter than this after the contact are rattling, not a bounce (s). */
const BOUNCE_S = 0.2;
/** With no sample for longer before the ground is met, how it was met was not seen (s). */
export const CONTACT_GAP_S = 1.5;
/** Longer or higher in the air than this after a contact is another flight, no bounce. */
const BOUNCE_LASTS_S = 10;
const BOUNCE_FT = 50;
/** Stopped: below this groundspeed for a second. */
const STOPPED_KT = 2;
const STOPPED_S = 1;

/** What tells whether the aeroplane is on the ground. */
export type GroundColumns = Pick<
  Flight,
  'recording' | 'count' | 'timeS' | 'heightFt' | 'heightAboveGroundFt' | 'onGround'
>;

export interface Contacts {
  readonly contactS: number;
  /** After bounces: the contact from which it stayed down. */
  readonly lastContactS: number;
  readonly stoppedS: number | null;
  /** It took off again (a touch-and-go, the next attempt): what follows is another flight. null: it did not. */
  readonly awayS: number | null;
}

/** 1 for each sample on the ground, 0 in the air; over a floor there is no ground. */
export function onGroundSamples(flight: GroundColumns): Uint8Array {
  const over = flight.recording.header.scenario.practice.from === 'floor' && flight.onGround === null;
  const groundFt = standingHeightFt(flight) + TOUCH_FT;
  const down = new Uint8Array(flight.count);
  if (over) return down;
  for (let i = 0; i < flight.count; i++) down[i] = isDown(flight, i, groundFt) ? 1 : 0;
  return down;
}

/**
 * Last lift-off before a time: the on-ground channel falls (the middle of the interval), else height passes 10 ft over
 * where the aeroplane stood. null when the recording begins in the air.
 */
export function liftOffBefore(flight: Flight, beforeS: number): number | null {
  const { timeS, onGround } = flight;
  const heightFt = overGroundFt(flight);
  const standsFt = standingHeightFt(flight);
  for (let i = indexAt(timeS, beforeS); i > 0; i--) {
    const t0 = timeS[i - 1] as number;
    const t1 = timeS[i] as number;
    if (onGround !== null) {
      if (onGround[i - 1] === 1 && onGround[i] === 0) return (t0 + t1) / 2;
      continue;
    }
    const before = (heightFt[i - 1] as number) - standsFt - AIRBORNE_FT;
    const after = (heightFt[i] as number) - standsFt - AIRBORNE_FT;
    if (before < 0 && after >= 0) return t0 + (before / (before - after)) * (t1 - t0);
  }
  return null;
}

/** Where the take-off of a lift-off begins: at the contact before it, where another flight went before; else with the recording. */
export function takeOffBegins(flight: Flight, liftOffS: number | null): number {
  const { timeS } = flight;
  const beginsS = timeS[0] ?? 0;
  if (liftOffS === null) return beginsS;
  const down = onGroundSamples(flight);
  let contact = indexAt(timeS, liftOffS);
  while (contact > 0 && down[contact] === 0) contact--;
  for (let i = contact; i >= 0; i--) {
    if (down[i] === 1) contact = i;
    else if ((timeS[contact] as number) - (timeS[i] as number) >= BOUNCE_LASTS_S) return timeS[contact] as number;
  }
  return beginsS;
}

/** First time at which the aeroplane is in the air; null when it never is. */
export function firstAirborne(flight: Flight): number | null {
  const { timeS, count } = flight;
  const standsFt = standingHeightFt(flight);
  for (let i = 0; i < count; i++) if (!isDown(flight, i, standsFt + AIRBORNE_FT)) return timeS[i] as number;
  return null;
}

/**
 * Contacts after a time: the aeroplane comes to the ground (on-ground channel, else height above the ground, or
 * without that above the runway, within 1 ft of where it stood before; over a floor: the floor). The moment inside the
 * interval is where the last height in the air, at the sink then recorded, meets the ground; in a gap of more than 1.5 s
 * half as late again, for a flare to no sink takes twice that time. A spell in the air after it
 * is a bounce, unless it lasts 10 s or rises 50 ft: then it is another flight, and no last contact or stop is taken
 * from there.
 * A track log without that channel is read by {@link trackContact}.
 *
 * @returns null when it never comes down in the recording.
 */
export function contactsAfter(flight: Flight, afterS: number): Contacts | null {
  const { timeS, count } = flight;
  const { header } = flight.recording;
  const overFloor = header.scenario.practice.from === 'floor';
  if (header.imported !== undefined && flight.onGround === null && !overFloor) {
    const told = trackContact(flight, afterS);
    if (told !== null) return { ...told, lastContactS: told.contactS, awayS: null };
  }
  const groundFt = overFloor ? 0 : standingHeightFt(flight) + TOUCH_FT;
  const down = (i: number) => (overFloor ? (flight.heightFt[i] as number) <= 0 : isDown(flight, i, groundFt));
  const start = Math.max(indexAt(timeS, afterS) + 1, 1);
  let first: number | null = null;
  let last: number | null = null;
  let away: number | null = null;
  for (let i = start; i < count; i++) {
    if (first !== null && !down(i) && down(i - 1) && isAnotherFlight(flight, i, down)) {
      away = i;
      break;
    }
    if (!down(i) || down(i - 1)) continue;
    if (first === null) first = i;
    else if ((timeS[i] as number) - lastDownBefore(flight, i, down) > BOUNCE_S) last = i;
    if (overFloor) break;
  }
  if (first === null) return eventContact(flight, afterS);
  const contactS = momentOf(flight, first, overFloor);
  const lastContactS = last === null ? contactS : momentOf(flight, last, overFloor);
  const stoppedS = overFloor ? null : stoppedAfter(flight, lastContactS, away ?? count);
  return { contactS, lastContactS, stoppedS, awayS: away === null ? null : (timeS[away] as number) };
}

/** A recording that ends at the contact holds no sample on the ground; the recorded event then tells the time. */
function eventContact(flight: Flight, afterS: number): Contacts | null {
  const told = flight.recording.events.find(
    ({ code, timeS }) => code === 'contact' && timeS !== null && timeS > afterS,
  )?.timeS;
  if (told === undefined || told === null || flight.count === 0) return null;
  const contactS = Math.min(told, flight.timeS[flight.count - 1] as number);
  return contactS > afterS ? { contactS, lastContactS: contactS, stoppedS: null, awayS: null } : null;
}

/** The height that tells a contact: above the ground beneath where that is told; over a floor, above the floor. */
function overGroundFt({ recording, heightAboveGroundFt, heightFt }: GroundColumns): Float64Array {
  const overFloor = recording.header.scenario.practice.from === 'floor';
  return overFloor ? heightFt : (heightAboveGroundFt ?? heightFt);
}

function isDown(flight: GroundColumns, i: number, groundFt: number): boolean {
  return flight.onGround === null ? (overGroundFt(flight)[i] as number) <= groundFt : flight.onGround[i] === 1;
}

/** Whether the spell in the air that begins at a sample is more than a bounce. */
function isAnotherFlight(flight: Flight, from: number, down: (i: number) => boolean): boolean {
  const heightFt = overGroundFt(flight);
  const groundFt = heightFt[from - 1] as number;
  for (let i = from; i < flight.count && !down(i); i++) {
    const airborneS = (flight.timeS[i] as number) - (flight.timeS[from] as number);
    if (airborneS >= BOUNCE_LASTS_S || (heightFt[i] as number) - groundFt >= BOUNCE_FT) return true;
  }
  return false;
}

function lastDownBefore(flight: Flight, i: number, down: (i: number) => boolean): number {
  let j = i - 1;
  while (j > 0 && !down(j)) j--;
  return flight.timeS[j] as number;
}

/** Height read while standing before the take-off: the lowest of the first samples, at most 15 ft; else 0. */
function standingHeightFt(flight: GroundColumns): number {
  const { onGround, count, timeS } = flight;
  const heightFt = overGroundFt(flight);
  if (flight.recording.header.scenario.practice.from === 'floor' || count === 0) return 0;
  const first = heightFt[0] as number;
  const stands = onGround === null ? Math.abs(first) <= 15 : onGround[0] === 1;
  if (!stands) return 0;
  const span = samplesWithin(timeS, timeS[0] as number, (timeS[0] as number) + 1);
  let sum = 0;
  let samples = 0;
  for (let i = 0; i <= (span?.last ?? 0); i++) {
    sum += heightFt[i] as number;
    samples++;
  }
  return sum / samples;
}

/** Inside the interval before sample `i`, the first on the ground (its height) or below the floor (height 0). */
function momentOf(flight: Flight, i: number, overFloor: boolean): number {
  const { timeS, verticalSpeedFpm } = flight;
  const heightFt = overGroundFt(flight);
  const t0 = timeS[i - 1] as number;
  const t1 = timeS[i] as number;
  const above = (heightFt[i - 1] as number) - (overFloor ? 0 : (heightFt[i] as number));
  const sinkFtS = -(verticalSpeedFpm[i - 1] as number) / 60;
  if (above <= 0 || sinkFtS <= 0) return (t0 + t1) / 2;
  const straightS = above / sinkFtS;
  if (t1 - t0 <= CONTACT_GAP_S) return Math.min(t0 + straightS, t1);
  return t0 + (Math.min(straightS, t1 - t0) + Math.min(2 * straightS, t1 - t0)) / 2;
}

function stoppedAfter(flight: Flight, fromS: number, count: number): number | null {
  const { timeS, groundspeedKt } = flight;
  let sinceS: number | null = null;
  for (let i = Math.max(indexAt(timeS, fromS), 1); i < count; i++) {
    const speed = groundspeedKt === null ? speedBetween(flight, i) : (groundspeedKt[i] as number);
    if (speed === null) return null;
    if (speed >= STOPPED_KT) sinceS = null;
    else sinceS ??= timeS[i] as number;
    if (sinceS !== null && ((timeS[i] as number) - sinceS >= STOPPED_S || i === count - 1)) return sinceS;
  }
  return null;
}

function speedBetween(flight: Flight, i: number): number | null {
  const t0 = flight.timeS[i - 1] as number;
  const t1 = flight.timeS[i] as number;
  const from = flight.place(t0);
  const to = flight.place(t1);
  if (from === null || to === null) return null;
  return Math.hypot(to.alongFt - from.alongFt, to.acrossFt - from.acrossFt) / (t1 - t0) / 1.687_81;
}
