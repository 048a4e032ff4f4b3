// Lateral laws of the modelled pilot: turn to an aim point, capture and hold the centreline, wings level near the ground.
import { FLARE_HEIGHT_M } from './pilot.js';
import * as indices from './state.js';
import * as units from './units.js';
import { RAD_PER_DEG } from './units.js';

// A binding that is imported is loaded anew at each use; a constant of this file is folded into the code.
const { VX, VY, X, Y } = indices;
const { GRAVITY_MPS2 } = units;

/** Share of a track error taken out per second; with the bank lag of 0.3 s damped at 0.9 of critical. */
const TRACK_GAIN_PER_S = 1;
/** Capture of the centreline: time constant of its end where the technique does not say (s) … */
export const USUAL_ALIGN_TIME_S = 2.5;
/** … and how fast the lateral speed asked is taken up (1/s). */
const LINE_RATE_GAIN_PER_S = 1.2;
/** Time the roll into the alignment turn takes (s). */
const ALIGN_LEAD_S = 0.5;
/** Bank the alignment is planned with: a share of the turn's bank, and at most this. The rest is kept to correct with. */
const ALIGN_BANK_SHARE = 0.6;
const ALIGN_BANK_LIMIT_RAD = 25 * RAD_PER_DEG;
/** From this height down the bank is taken off, to at most this much at flare height. */
export const LEVELLING_HEIGHT_M = 20;
const LEVELLED_BANK_RAD = 5 * RAD_PER_DEG;

/** A turn that has gone past its aim by no more than this counts as overshot, by more as another circle to fly (rad). */
const OVERSHOOT_RAD = 0.5;

/** Where a return goes: side of the first turn (right +1, left -1) and the point on the centreline aimed at (m). */
export interface Aim {
  readonly side: 1 | -1;
  readonly aimM: number;
}

/**
 * Angle still to be turned, towards the side of the first turn, until the track leads to the aim point (rad):
 * -0.5 … 2π-0.5, so that an overshoot counts as negative and not as another circle.
 */
export function turnToGoRad(state: Float64Array, aim: Aim): number {
  const x = state[X] as number;
  const y = state[Y] as number;
  const ahead = aim.aimM - x;
  const vx = state[VX] as number;
  const vy = state[VY] as number;
  // Angle from the track to the bearing of the aim point (ahead, -y).
  const toGo = aim.side * Math.atan2(-vx * y - vy * ahead, vx * ahead - vy * y);
  return toGo < -OVERSHOOT_RAD ? toGo + 2 * Math.PI : toGo;
}

/** What a lateral law sets: a number handed back would be put in a box wherever the call is not folded in. */
export interface BankCommand {
  /** Bank asked for (rad, right positive). */
  bankCommandRad: number;
}

/**
 * Asks for the bank that takes out the error of the track to the aim point.
 *
 * @param shortWay False in the first turn, which goes on to its side until it is round.
 */
export function steerToAim(command: BankCommand, state: Float64Array, aim: Aim, shortWay: boolean): void {
  const vx = state[VX] as number;
  const vy = state[VY] as number;
  const ahead = aim.aimM - (state[X] as number);
  const y = state[Y] as number;
  const nearestRad = aim.side * Math.atan2(-vx * y - vy * ahead, vx * ahead - vy * y);
  const errorRad = shortWay || nearestRad >= -OVERSHOOT_RAD ? nearestRad : nearestRad + 2 * Math.PI;
  const ground = Math.sqrt(vx * vx + vy * vy); // not hypot: several times dearer, and asked at every evaluation
  command.bankCommandRad = aim.side * Math.atan((ground * TRACK_GAIN_PER_S * errorRad) / GRAVITY_MPS2);
}

/** Bank an alignment turn is planned with where the technique does not say (rad). */
export function usualAlignBankRad(bankRad: number): number {
  return Math.min(ALIGN_BANK_SHARE * bankRad, ALIGN_BANK_LIMIT_RAD);
}

/** How the centreline is captured: lateral speed taken off evenly, then, near it, in proportion to what is left. */
export interface Capture {
  /** Lateral deceleration of the alignment turn (m/s²). */
  readonly decelerationMps2: number;
  /** Lateral speed asked per metre off the centreline, near it (1/s). */
  readonly gainPerS: number;
  /** What is near it (m): the two meet there. */
  readonly linearM: number;
}

/** The capture of an alignment planned with a bank (rad) and ended with a time constant (s). */
export function captureOf(alignBankRad: number, alignTimeS: number): Capture {
  const decelerationMps2 = GRAVITY_MPS2 * Math.tan(alignBankRad);
  return { decelerationMps2, gainPerS: 1 / alignTimeS, linearM: decelerationMps2 * alignTimeS * alignTimeS };
}

/** Lateral speed towards the centreline from which it can still be captured, this far off it (m/s, positive). */
function captureSpeedMps(offM: number, { decelerationMps2, gainPerS, linearM }: Capture): number {
  return offM <= linearM ? gainPerS * offM : Math.sqrt(2 * decelerationMps2 * (offM - linearM / 2));
}

/** How far off the centreline a capture begins at a lateral speed towards it (m), the roll into it counted. */
export function captureFromM(closingMps: number, { decelerationMps2, gainPerS, linearM }: Capture): number {
  const offM =
    closingMps <= gainPerS * linearM
      ? closingMps / gainPerS
      : (closingMps * closingMps) / (2 * decelerationMps2) + linearM / 2;
  return offM + closingMps * ALIGN_LEAD_S;
}

/** Above 0 as soon as the alignment turn has to begin; the aeroplane must be closing with the centreline. */
export function alignDue(state: Float64Array, capture: Capture): number {
  const vy = state[VY] as number;
  const ahead = (state[Y] as number) + vy * ALIGN_LEAD_S;
  const y = state[Y] as number;
  const closing = y > 0 ? -vy : vy;
  return closing - captureSpeedMps(ahead * y > 0 ? Math.abs(ahead) : 0, capture);
}

/** Asks for the bank that captures and then holds the centreline; works in either direction of flight. */
export function steerToCentreline(command: BankCommand, state: Float64Array, capture: Capture): void {
  const y = state[Y] as number;
  const vx = state[VX] as number;
  const vy = state[VY] as number;
  const off = Math.abs(y);
  const speed = captureSpeedMps(off, capture);
  const slope = off <= capture.linearM ? capture.gainPerS : capture.decelerationMps2 / speed;
  const wanted = y > 0 ? -speed : speed;
  const acceleration = LINE_RATE_GAIN_PER_S * (wanted - vy) - slope * vy;
  const ground = Math.sqrt(vx * vx + vy * vy);
  const along = ground > 0 ? vx / ground : 1;
  const share = along >= 0 ? Math.max(along, 0.5) : Math.min(along, -0.5);
  command.bankCommandRad = Math.atan(acceleration / (share * GRAVITY_MPS2));
}

/** Bank still allowed at a height above the runway (m): all of it above 20 m, 5° from flare height down. */
export function bankLimitNearGroundRad(heightM: number, bankRad: number): number {
  if (heightM >= LEVELLING_HEIGHT_M) return bankRad;
  const least = Math.min(LEVELLED_BANK_RAD, bankRad);
  if (heightM <= FLARE_HEIGHT_M) return least;
  return least + ((bankRad - least) * (heightM - FLARE_HEIGHT_M)) / (LEVELLING_HEIGHT_M - FLARE_HEIGHT_M);
}
