// The first action where the data has a gap over it: what was not there before the gap stands there after it.
import { indexAt } from './columns.js';
import type { Control } from './firstAction.js';
import type { Flight } from './flight.js';

/** Shorter silences are bridged by the lines through the samples beside them (s). */
const GAP_S = 1;
/** Put on in the gap: this much bank, or this much less pitch than hands off (deg; what hands off did in it is rough). */
const BANK_DEG = 10;
const PITCH_DEG = 6;
/** Fastest that bank is put on where the technique does not say (deg/s). */
const ROLL_RATE_DEG_S = 30;

export interface GapAction {
  readonly atS: number;
  readonly control: Control;
  /** It may have been so much earlier or later (s). */
  readonly giveOrTakeS: number;
  /** Where the gap begins (s). */
  readonly gapFromS: number;
}

/**
 * The action that began in a gap of more than 1 s: the middle of the time in which it can have begun, which runs from
 * the start of the gap (or the loss) to where the bank found after it must at the latest have been begun at the
 * technique's rate of roll.
 *
 * @param beyond As `pitchBeyondHandsOff` gives it.
 * @param side Side of the turn; null: either.
 * @returns null where no gap hides a beginning.
 */
export function actionInGap(
  flight: Flight,
  beyond: Float64Array,
  lossS: number,
  toS: number,
  side: 1 | -1 | null,
): GapAction | null {
  const { timeS, bankDeg, count } = flight;
  const rollRateDegS = flight.recording.header.scenario.technique.rollRateDegS ?? ROLL_RATE_DEG_S;
  const bankOf = (i: number) => (side === null ? Math.abs(bankDeg[i] as number) : side * (bankDeg[i] as number));
  for (let i = Math.max(indexAt(timeS, lossS), 0) + 1; i < count && (timeS[i] as number) <= toS; i++) {
    const beforeS = timeS[i - 1] as number;
    const afterS = timeS[i] as number;
    if (afterS - beforeS <= GAP_S) continue;
    const banked = bankOf(i - 1) < BANK_DEG && bankOf(i) >= BANK_DEG;
    const pushed = (beyond[i] as number) - (beyond[i - 1] as number) <= -PITCH_DEG;
    if (!banked && !pushed) continue;
    const earliestS = Math.max(beforeS, lossS);
    const latestS = Math.max(afterS - (banked ? bankOf(i) / rollRateDegS : 0), earliestS);
    return {
      atS: (earliestS + latestS) / 2,
      control: banked && pushed ? 'both' : banked ? 'bank' : 'nose-down',
      giveOrTakeS: (latestS - earliestS) / 2,
      gapFromS: beforeS,
    };
  }
  return null;
}
