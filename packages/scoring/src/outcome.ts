// How the attempt ended, in one word.
import type { FlownOutcome } from '@stillprop/contracts';
import type { Attempt } from './attempt.js';
import { unmeasuredOf } from './unmeasured.js';

/** Limits of a landing on the runway, as the model's: ground track off the runway, and bank, at contact. */
export const TRACK_LIMIT_DEG = 15;
export const BANK_LIMIT_DEG = 10;

/**
 * Exactly one outcome, in this order: no contact; a stall on the way; an impact; a wing low at contact; on the runway
 * and along it (stopped, or an overrun); a landing ahead under control, one that rolls on past the runway's end
 * included; on the airfield, off it, or not known.
 */
export function outcomeOf({ recording, moments, touchdown, stall, kind }: Attempt): FlownOutcome {
  if (touchdown === null) return stall.stalledAtS === null || moments.lossS === null ? 'no-contact' : 'stall';
  if (stall.stalledAtS !== null) return 'stall';
  if (touchdown.crashed) return 'crash';
  const bankTold = touchdown.seen && unmeasuredOf(recording, ['bankDeg']).length === 0;
  if (bankTold && Math.abs(touchdown.bankDeg) > BANK_LIMIT_DEG) return 'wing-low-contact';
  const { landing } = touchdown;
  const aligned = touchdown.offRunwayDeg === null || touchdown.offRunwayDeg <= TRACK_LIMIT_DEG;
  const overruns = touchdown.stopMarginFt !== null && touchdown.stopMarginFt < 0;
  if (landing?.onRunway && aligned && !(overruns && kind === 'ahead'))
    return overruns ? 'overrun' : 'stopped-on-runway';
  if (kind === 'ahead' && moments.firstActionS !== null) return 'landed-ahead';
  if (landing === null) return 'not-known';
  return landing.onAirfield ? 'on-airfield' : 'off-airfield';
}
