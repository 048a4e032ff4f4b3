// What a contact with the ground comes to, and how far it was from a landing that stops on the runway.
import type { Outcome, RunwayNumbers } from './request.js';
import { BANK, VX, VY, X, Y } from './state.js';
import { stripOf } from './strip.js';
import { M_PER_FT, RAD_PER_DEG } from './units.js';

/** Limits of a runway landing: ground track off the runway direction, and bank at contact. */
export const TRACK_LIMIT_RAD = 15 * RAD_PER_DEG;
export const BANK_LIMIT_RAD = 10 * RAD_PER_DEG;

/** A judged contact; lengths in metres, along from brake release. */
export interface Contact {
  readonly outcome: Outcome;
  readonly headingErrorRad: number;
  readonly groundspeedMps: number;
  /** Runway left when stopped, negative: overrun; null when it was not a runway landing. */
  readonly stopMarginM: number | null;
  /** From the landing threshold to the contact, negative: short of it. */
  readonly pastThresholdM: number;
  /** 0 for a landing that stops on the runway, growing with every metre and degree it missed that by. */
  readonly miss: number;
}

/**
 * Judges a contact. Exactly one outcome, in this order: a stall anywhere on the way; bank over 10°; contact on the
 * runway with the ground track within 15° of it (stopped, or overrun); inside the aerodrome; outside.
 *
 * @param direction -1: landing against the take-off direction (a return), +1: along it.
 * @param rollM Roll to a stop from this contact.
 * @param onAirfield Whether it lies inside the aerodrome boundary; that of `runway` when absent.
 */
export function judgeContact(
  state: Float64Array,
  runway: RunwayNumbers,
  direction: 1 | -1,
  rollM: number,
  stalled: boolean,
  onAirfield = isOnAirfield(runway, state[X] as number, state[Y] as number),
): Contact {
  const x = state[X] as number;
  const y = state[Y] as number;
  const vx = state[VX] as number;
  const vy = state[VY] as number;
  const { startM, endM, halfWidthM } = stripOf(runway);
  const headingErrorRad = Math.atan2(vy, vx * direction);
  const bank = Math.abs(state[BANK] as number);
  const pastThresholdM = direction === 1 ? x - startM : endM - x;
  const leftM = endM - startM - pastThresholdM - rollM;
  const aligned = Math.abs(headingErrorRad) <= TRACK_LIMIT_RAD;
  const onRunway = pastThresholdM >= 0 && pastThresholdM <= endM - startM && Math.abs(y) <= halfWidthM;
  const landed = onRunway && aligned;
  const outcome: Outcome = stalled
    ? 'stall'
    : bank > BANK_LIMIT_RAD
      ? 'wing-low-contact'
      : landed
        ? leftM >= 0
          ? 'stopped-on-runway'
          : 'overrun'
        : onAirfield
          ? 'on-airfield'
          : 'off-airfield';
  const over = (value: number) => Math.max(value, 0);
  const miss =
    over(-pastThresholdM) +
    over(-leftM) +
    3 * over(Math.abs(y) - halfWidthM) +
    300 * (over(Math.abs(headingErrorRad) - TRACK_LIMIT_RAD) + over(bank - BANK_LIMIT_RAD)) +
    (Math.abs(headingErrorRad) > Math.PI / 2 || stalled ? 10_000 : 0);
  return {
    outcome,
    headingErrorRad: direction === 1 ? headingErrorRad : -headingErrorRad,
    groundspeedMps: Math.hypot(vx, vy),
    stopMarginM: landed ? leftM : null,
    pastThresholdM,
    miss,
  };
}

/** True inside the aerodrome boundary, or on the runway itself; metres along from brake release and across. */
export function isOnAirfield(runway: RunwayNumbers, x: number, y: number): boolean {
  const { startM, endM, halfWidthM } = stripOf(runway);
  const beyondM = runway.airfield.beyondEndFt * M_PER_FT;
  const besideM = Math.max(runway.airfield.besideFt * M_PER_FT, halfWidthM);
  return x >= startM - beyondM && x <= endM + beyondM && Math.abs(y) <= besideM;
}
