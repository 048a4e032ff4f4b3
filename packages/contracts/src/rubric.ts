// How an attempt is marked: weights and tolerances as data, each with its source, at one revision.
import { z } from 'zod';
import { identifier, quantity, shortText } from './quantities.js';
import { FindingCode } from './score.js';

const weight = quantity(0, 100, '');
const source = z.string().min(1).max(500).describe('Where the tolerance comes from');

/** Marks that are full up to one limit run out at another, which must not come first. */
function inOrder<Full extends string, Zero extends string>(full: Full, zero: Zero, unit: string) {
  return (ctx: z.core.ParsePayload<{ readonly [field in Full | Zero]?: number | undefined }>) => {
    const { [full]: from, [zero]: to } = ctx.value;
    if (from === undefined || to === undefined || to >= from) return;
    const message = `must be at least ${full} (${from}${unit === '' ? '' : ` ${unit}`})`;
    ctx.issues.push({ code: 'custom', input: to, path: [zero], message });
  };
}

export const Rubric = z.strictObject({
  schemaVersion: z.literal(1),
  id: identifier,
  revision: z.int().min(1),
  name: shortText,
  /** Full marks up to fullWithinS; none from zeroAtS. */
  delay: z
    .strictObject({
      weight,
      fullWithinS: quantity(0, 30, 's'),
      zeroAtS: quantity(0, 60, 's'),
      /** An action is decisive from these rates on, held for holdS. */
      decisivePitchDownDegS: quantity(0.5, 20, 'degrees/s'),
      decisiveBankRateDegS: quantity(1, 60, 'degrees/s'),
      holdS: quantity(0.1, 2, 's'),
      source,
    })
    .check(inOrder('fullWithinS', 'zeroAtS', 's')),
  /** Deviation from the technique's bank in the established turn; over-bank runs out of marks sooner and weighs more. */
  bank: z
    .strictObject({
      weight,
      fullWithinDeg: quantity(0, 45, 'degrees'),
      zeroUnderByDeg: quantity(1, 90, 'degrees'),
      zeroOverByDeg: quantity(1, 90, 'degrees'),
      source,
    })
    .check(inOrder('fullWithinDeg', 'zeroUnderByDeg', 'degrees'), inOrder('fullWithinDeg', 'zeroOverByDeg', 'degrees')),
  /** Deviation from the technique's target speed from first action to flare, and the least stall margin. */
  airspeed: z
    .strictObject({
      weight,
      fullAboveKt: quantity(0, 50, 'kt'),
      fullBelowKt: quantity(0, 50, 'kt'),
      zeroAboveKt: quantity(1, 100, 'kt'),
      zeroBelowKt: quantity(1, 100, 'kt'),
      /** Full marks at or above; none at 1.00. */
      fullStallMargin: quantity(1.001, 2, ''),
      source,
    })
    .check(inOrder('fullAboveKt', 'zeroAboveKt', 'kt'), inOrder('fullBelowKt', 'zeroBelowKt', 'kt')),
  /** Distance from the aim point, sink at contact, and whether it could stop. */
  touchdown: z
    .strictObject({
      weight,
      /** Aim point beyond the landing threshold (ft). */
      aimBeyondThresholdFt: quantity(0, 5000, 'ft'),
      fullShortFt: quantity(0, 5000, 'ft'),
      fullLongFt: quantity(0, 5000, 'ft'),
      zeroShortFt: quantity(1, 20_000, 'ft'),
      zeroLongFt: quantity(1, 20_000, 'ft'),
      fullAcrossFt: quantity(0, 500, 'ft'),
      zeroAcrossFt: quantity(1, 5000, 'ft'),
      fullSinkFpm: quantity(0, 3000, 'ft/min'),
      zeroSinkFpm: quantity(1, 5000, 'ft/min'),
      /** From this sink on it was an impact and no landing; 1,200 ft/min, or zeroSinkFpm if that is more, when absent. */
      crashSinkFpm: quantity(1, 10_000, 'ft/min').optional(),
      source,
    })
    .check(
      inOrder('fullShortFt', 'zeroShortFt', 'ft'),
      inOrder('fullLongFt', 'zeroLongFt', 'ft'),
      inOrder('fullAcrossFt', 'zeroAcrossFt', 'ft'),
      inOrder('fullSinkFpm', 'zeroSinkFpm', 'ft/min'),
      inOrder('zeroSinkFpm', 'crashSinkFpm', 'ft/min'),
    ),
  /** A landing ahead: bank within limits, then wings level, gently and slowly; the runway point does not count. */
  ahead: z
    .strictObject({
      /** Full marks up to fullWithinBankDeg of bank to either side, none from zeroAtBankDeg. */
      fullWithinBankDeg: quantity(0, 60, 'degrees'),
      zeroAtBankDeg: quantity(1, 90, 'degrees'),
      /** Bank at contact. */
      fullContactBankDeg: quantity(0, 20, 'degrees'),
      zeroContactBankDeg: quantity(1, 45, 'degrees'),
      /** Airspeed at contact over the stall speed of the configuration. */
      fullStallSpeedRatio: quantity(1, 2, ''),
      zeroStallSpeedRatio: quantity(1.01, 3, ''),
      source,
    })
    .check(
      inOrder('fullWithinBankDeg', 'zeroAtBankDeg', 'degrees'),
      inOrder('fullContactBankDeg', 'zeroContactBankDeg', 'degrees'),
      inOrder('fullStallSpeedRatio', 'zeroStallSpeedRatio', ''),
    )
    .optional(),
  /** Height (ft above the runway) below which a turn should no longer be on. */
  wingsLevelHeightFt: quantity(0, 2000, 'ft'),
  /** Highest total beside each finding. Absent: `crash` 10, `off-airfield` 40, the others none. */
  caps: z.partialRecord(FindingCode, quantity(0, 100, '')),
});
export type Rubric = z.infer<typeof Rubric>;
