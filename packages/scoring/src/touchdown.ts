// The figures of the first contact with the ground: where, along which direction, how hard, how fast, and can it stop.
import type { Rubric } from '@stillprop/contracts';
import { deriveAeroplane, groundRollM, M_PER_FT, MPS_PER_KT, referenceTouchdownMps } from '@stillprop/physics';
import { offRunway, trackFromTakeoffDeg } from './approach.js';
import { fitLine, indexAt, valueAt } from './columns.js';
import { stallSpeedKt } from './derivedColumns.js';
import type { Flight } from './flight.js';
import { CONTACT_GAP_S } from './groundContact.js';
import type { Moments } from './moments.js';

/** Samples up to this long before the contact give the sink, and the speed over the ground. */
const BEFORE_S = 1;
/** Sink of a crash where the rubric states none (ft/min): as the standard rubric states it; no source. */
const CRASH_SINK_FPM = 1200;
/**
 * Ground about a runway that belongs to it even where no airfield is stated (ft, beside its edges and beyond its ends):
 * the strip of the smallest aerodromes is 30 m to each side of the centreline and beyond the ends (ICAO Annex 14 vol. I,
 * 3.4; from memory).
 */
const STRIP_FT = 100;
const FT_S_PER_KT = MPS_PER_KT / M_PER_FT;

/** Where it came down in the runway frame, judged on the end landed on. */
export interface Landing {
  /** From brake release in the take-off direction, right positive (ft). */
  readonly alongFt: number;
  readonly acrossFt: number;
  /** +1: landing in the take-off direction; -1: against it, where the far end is the landing threshold. */
  readonly direction: 1 | -1;
  readonly pastThresholdFt: number;
  /** From the aim point in the landing direction, long positive (ft). */
  readonly fromAimFt: number;
  readonly onRunway: boolean;
  readonly onAirfield: boolean;
}

export interface Touchdown {
  readonly atS: number;
  /** Samples reach to within 1.5 s of the contact; if not, sink, bank and speed at it are not known. */
  readonly seen: boolean;
  /** Sink at contact, positive down (ft/min). */
  readonly sinkFpm: number;
  /** An impact: sink of the rubric's `crashSinkFpm` or more. */
  readonly crashed: boolean;
  readonly bankDeg: number;
  readonly iasKt: number;
  /** Speed over the stall speed of the configuration at one g. */
  readonly stallSpeedRatio: number;
  readonly groundspeedKt: number | null;
  /** Ground track off the nearer runway direction (deg); null when it hardly moves. */
  readonly offRunwayDeg: number | null;
  readonly gearFraction: number | null;
  /** null: the runway has no position. */
  readonly landing: Landing | null;
  /** Roll to a stop from here (ft), by the handbook; null without a groundspeed. */
  readonly rollFt: number | null;
  /** Runway left when stopped (ft), negative: overrun; null: not on the runway, or not known. */
  readonly stopMarginFt: number | null;
  /** The stop itself is in the recording. */
  readonly stopSeen: boolean;
}

/** Sink at contact from which a rubric calls it a crash (ft/min). */
export function crashSinkFpm({ touchdown }: Rubric): number {
  return touchdown.crashSinkFpm ?? Math.max(CRASH_SINK_FPM, touchdown.zeroSinkFpm);
}

/** The touchdown of an attempt; null without one, and in practice over a floor. */
export function touchdownOf(flight: Flight, moments: Moments): Touchdown | null {
  const { contactS } = moments;
  const { scenario, aircraft, runway, rubric } = flight.recording.header;
  if (contactS === null || moments.lossS === null || scenario.practice.from === 'floor') return null;
  const { timeS } = flight;
  const justBeforeS = timeS[indexAt(timeS, contactS - 1e-6)] ?? contactS;
  const at = (column: Float64Array) => valueAt(timeS, column, justBeforeS);
  const sinkLine = fitLine(timeS, flight.verticalSpeedFpm, contactS - BEFORE_S, justBeforeS);
  const sinkFpm = -(sinkLine?.at(contactS) ?? at(flight.verticalSpeedFpm));
  const trackDeg = trackFromTakeoffDeg(flight, contactS, contactS);
  const off = trackDeg === null ? null : offRunway(trackDeg);
  const landing = landingOf(flight, contactS, off?.direction ?? 1);
  const groundspeedKt = groundspeedAt(flight, contactS, justBeforeS);
  const seen = contactS - justBeforeS <= CONTACT_GAP_S;
  const plane = deriveAeroplane(aircraft);
  const rollFt =
    groundspeedKt === null
      ? null
      : groundRollM(
          aircraft.landingRollFt * M_PER_FT,
          groundspeedKt * MPS_PER_KT,
          referenceTouchdownMps(plane),
          runway.surface,
        ) / M_PER_FT;
  const stall = stallSpeedKt(
    aircraft,
    Float64Array.of(1),
    flight.flapFraction === null ? null : Float64Array.of(at(flight.flapFraction)),
  )[0] as number;
  return {
    atS: contactS,
    seen,
    sinkFpm,
    crashed: seen && sinkFpm >= crashSinkFpm(rubric),
    bankDeg: bankAtContact(flight, contactS, justBeforeS),
    iasKt: at(flight.iasKt),
    stallSpeedRatio: at(flight.iasKt) / stall,
    groundspeedKt,
    offRunwayDeg: off?.offDeg ?? null,
    gearFraction: flight.gearFraction === null ? null : at(flight.gearFraction),
    landing,
    rollFt,
    ...stopOf(flight, moments, landing, rollFt),
  };
}

/** Judged on the end landed on, by the ground track; off the runway, on the end whose aim point is nearer. */
function landingOf(flight: Flight, contactS: number, trackDirection: 1 | -1): Landing | null {
  const { runway, rubric } = flight.recording.header;
  const place = flight.place(contactS);
  if (place === null) return null;
  const { alongFt, acrossFt } = place;
  const { beyondEndFt, besideFt } = runway.airfield;
  const halfWidthFt = runway.widthFt / 2;
  const onRunway = alongFt >= 0 && alongFt <= runway.lengthFt && Math.abs(acrossFt) <= halfWidthFt;
  const past = (direction: 1 | -1) => (direction === 1 ? alongFt : runway.lengthFt - alongFt);
  const fromAim = (direction: 1 | -1) => past(direction) - rubric.touchdown.aimBeyondThresholdFt;
  const nearer = Math.abs(fromAim(1)) < Math.abs(fromAim(-1)) ? 1 : -1;
  const direction = onRunway ? trackDirection : nearer;
  return {
    alongFt,
    acrossFt,
    direction,
    pastThresholdFt: past(direction),
    fromAimFt: fromAim(direction),
    onRunway,
    onAirfield:
      alongFt >= -Math.max(beyondEndFt, STRIP_FT) &&
      alongFt <= runway.lengthFt + Math.max(beyondEndFt, STRIP_FT) &&
      Math.abs(acrossFt) <= Math.max(besideFt, halfWidthFt + STRIP_FT),
  };
}

/** Bank carried on at its last rate to the contact, by at most one sample. */
function bankAtContact(flight: Flight, contactS: number, justBeforeS: number): number {
  const line = fitLine(flight.timeS, flight.bankDeg, contactS - BEFORE_S / 2, justBeforeS);
  return line?.at(contactS) ?? valueAt(flight.timeS, flight.bankDeg, justBeforeS);
}

function groundspeedAt(flight: Flight, contactS: number, justBeforeS: number): number | null {
  if (flight.groundspeedKt !== null) return Math.max(valueAt(flight.timeS, flight.groundspeedKt, justBeforeS), 0);
  const from = flight.place(contactS - BEFORE_S);
  const to = flight.place(contactS);
  if (from === null || to === null) return null;
  return Math.hypot(to.alongFt - from.alongFt, to.acrossFt - from.acrossFt) / BEFORE_S / FT_S_PER_KT;
}

/** The stop as recorded; without one, by the handbook roll from where it last touched. */
function stopOf(
  flight: Flight,
  moments: Moments,
  landing: Landing | null,
  rollFt: number | null,
): { stopMarginFt: number | null; stopSeen: boolean } {
  if (landing === null || !landing.onRunway) return { stopMarginFt: null, stopSeen: false };
  const { lengthFt } = flight.recording.header.runway;
  const leftFrom = (alongFt: number) => (landing.direction === 1 ? lengthFt - alongFt : alongFt);
  const stopped = moments.stoppedS === null ? null : flight.place(moments.stoppedS);
  if (stopped !== null) return { stopMarginFt: leftFrom(stopped.alongFt), stopSeen: true };
  const lastDown = flight.place(moments.lastContactS ?? moments.contactS ?? 0);
  if (rollFt === null || lastDown === null) return { stopMarginFt: null, stopSeen: false };
  return { stopMarginFt: leftFrom(lastDown.alongFt) - rollFt, stopSeen: false };
}
