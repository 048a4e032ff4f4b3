// From the push to the flare: push complete, alignment with the runway, flare, gear and flap.
import { firstCrossing, firstHeld, indexAt, samplesWithin, smoothed, valueAt } from './columns.js';
import { type Flight, meanAround } from './flight.js';
import { LEVEL_BANK_DEG } from './turnFlown.js';

/** The push is over where the pitch has come down by this share of all it comes down in this time. */
const PUSH_SHARE = 0.9;
const PUSH_WITHIN_S = 6;
/** Aligned: ground track within this of the runway, from then on. */
const ALIGNED_DEG = 10;
const ALIGN_HOLD_S = 1;
const TRACK_HALF_S = 0.5;
/** A flare is looked for below this height; sink must end at this share of the largest there, or less. */
const FLARE_BELOW_FT = 80;
const FLARE_SHARE = 0.7;
const FLARE_BEGUN = 0.9;
/** Down is this much of the way. */
const DOWN = 0.95;

/** Pitch has come down by 90 % of what it comes down in the 6 s after the first action. */
export function pushComplete(flight: Flight, actionS: number, toS: number): number | null {
  const { timeS } = flight;
  const pitch = smoothed(timeS, flight.pitchDeg, 0.25);
  const span = samplesWithin(timeS, actionS, Math.min(actionS + PUSH_WITHIN_S, toS));
  if (span === null) return null;
  let least = Number.POSITIVE_INFINITY;
  for (let i = span.first; i <= span.last; i++) least = Math.min(least, pitch[i] as number);
  const start = valueAt(timeS, pitch, actionS);
  if (!(start - least > 0)) return null;
  return firstCrossing(timeS, pitch, start - PUSH_SHARE * (start - least), 'down', actionS, toS);
}

/**
 * Angle of the ground track to the take-off direction (deg, right positive, -180 to 180), from places over ±0.5 s
 * (only before `notAfterS`); without places from the recorded track, without that from the heading, both against the
 * runway heading. null when the aeroplane does not move.
 */
export function trackFromTakeoffDeg(flight: Flight, atS: number, notAfterS: number): number | null {
  const toS = Math.min(atS + TRACK_HALF_S, notAfterS);
  const from = flight.place(Math.min(atS, toS) - TRACK_HALF_S);
  const to = flight.place(toS);
  if (from !== null && to !== null) {
    const along = to.alongFt - from.alongFt;
    const across = to.acrossFt - from.acrossFt;
    return Math.hypot(along, across) < 1 ? null : (Math.atan2(across, along) * 180) / Math.PI;
  }
  const { headingTrueDeg } = flight.recording.header.runway;
  const direction = flight.trackDeg ?? flight.headingDeg;
  return wrapped(meanAround(flight, direction, Math.min(atS, toS), TRACK_HALF_S / 2) - headingTrueDeg);
}

/** Off the nearer runway direction (deg, 0 to 90), and which direction that is. */
export function offRunway(trackDeg: number): { offDeg: number; direction: 1 | -1 } {
  const size = Math.abs(wrapped(trackDeg));
  return size <= 90 ? { offDeg: size, direction: 1 } : { offDeg: 180 - size, direction: -1 };
}

/** Time from which the ground track stays within 10° of the runway until contact; null when it ends outside. */
export function alignedFrom(flight: Flight, fromS: number, contactS: number): number | null {
  const { timeS } = flight;
  const last = indexAt(timeS, contactS);
  const off = (atS: number) => {
    const trackDeg = trackFromTakeoffDeg(flight, atS, contactS);
    return trackDeg === null ? 0 : offRunway(trackDeg).offDeg;
  };
  let laterS = contactS;
  let later = off(contactS);
  if (later > ALIGNED_DEG) return null;
  for (let i = last; i >= 0 && (timeS[i] as number) >= fromS; i--) {
    const atS = timeS[i] as number;
    const now = off(atS);
    if (now > ALIGNED_DEG) return atS + ((now - ALIGNED_DEG) / (now - later)) * (laterS - atS);
    laterS = atS;
    later = now;
  }
  return fromS;
}

/** Bank beyond 10° to either side for a second or more, after the wings were level: the alignment turn begins. */
export function alignBegins(flight: Flight, fromS: number, toS: number): number | null {
  const size = flight.bankSmoothDeg.map(Math.abs);
  return firstHeld(flight.timeS, size, LEVEL_BANK_DEG, 'above', ALIGN_HOLD_S, fromS, toS);
}

/**
 * The sink begins to be arrested for landing: the last moment below 80 ft at which the sink (mean over ±0.25 s) is 90 %
 * or more of the largest there, if it ends at 70 % of that or less. null: no flare.
 */
export function flareBegins(flight: Flight, fromS: number, contactS: number): number | null {
  const { timeS, heightFt } = flight;
  const end = indexAt(timeS, contactS - 1e-6);
  const sink = smoothed(timeS.subarray(0, end + 1), flight.verticalSpeedFpm.subarray(0, end + 1), 0.25).map((v) => -v);
  let largest = 0;
  let first = end;
  while (first > 0 && (heightFt[first - 1] as number) <= FLARE_BELOW_FT && (timeS[first - 1] as number) >= fromS) {
    first--;
    largest = Math.max(largest, sink[first] as number);
  }
  if (end < 1 || largest <= 0 || (sink[end] as number) > FLARE_SHARE * largest) return null;
  for (let i = end; i > first; i--) {
    const before = sink[i - 1] as number;
    const after = sink[i] as number;
    const level = FLARE_BEGUN * largest;
    if (before < level || after >= level) continue;
    return (
      (timeS[i - 1] as number) +
      ((before - level) / (before - after)) * ((timeS[i] as number) - (timeS[i - 1] as number))
    );
  }
  return null;
}

/** A fraction (gear, flap) has come down after being up. */
export function comesDown(flight: Flight, fraction: Float64Array | null, fromS: number, toS: number): number | null {
  return fraction === null ? null : firstCrossing(flight.timeS, fraction, DOWN, 'up', fromS, toS);
}

function wrapped(angleDeg: number): number {
  return angleDeg - 360 * Math.round(angleDeg / 360);
}
