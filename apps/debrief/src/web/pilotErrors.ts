// What is asked of the spread on an attempt's page: its own failure, its own day, and a pilot who errs.
import type { ReturnMoment } from '@stillprop/contracts';
import { DEFAULT_ERRORS, type SpreadErrors, type SpreadWork, spreadWork } from '@stillprop/physics';

export type Moment = Extract<ReturnMoment, { ok: true }>['moment'];

export const DRAWS = 10_000;
/** Always the same, so that an attempt asked again answers the same. */
export const SEED = 1;

/** Delay, bank and speed stray as ever; wind, aeroplane and propeller are those of the attempt, the climb is recorded. */
export const PILOT_ERRORS: SpreadErrors = {
  ...DEFAULT_ERRORS,
  climbSpeedSdKt: 0,
  windSdKt: 0,
  windSdShare: 0,
  glideLogSd: 0,
};

/** The flights to count from there. @throws {RangeError} If the model does not fly from this moment. */
export function pilotErrorsWork({ request, start }: Moment): SpreadWork {
  return spreadWork(request, { start, draws: DRAWS, seed: SEED, errors: PILOT_ERRORS });
}
