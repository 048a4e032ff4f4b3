// A turn that was still on too near the ground.
import type { Attempt } from './attempt.js';
import { samplesWithin } from './columns.js';

/** Bank that small corrections on final need at any height; and what the height adds to it at the rubric's figure. */
const CORRECTION_DEG = 15;
const HIGHER_DEG = 15;
/** Beyond the allowance by this much it is a fault; less is a caution. */
const STEEP_BY_DEG = 10;
const HOLD_S = 0.5;

export interface LowTurn {
  readonly atS: number;
  readonly heightFt: number;
  readonly bankDeg: number;
  readonly steep: boolean;
}

/**
 * Bank still on below the rubric's wings-level height, after the loss of power: more than 15° at the ground, rising to
 * 30° at that height (the end of an alignment turn needs some), for half a second or longer. The moment with the
 * largest excess is told; more than 10° of excess is a fault.
 *
 * @returns null when the wings were level in time. Without a first action nothing was turned.
 */
export function lowTurn({ recording, flight, moments }: Attempt): LowTurn | null {
  const { lossS, firstActionS } = moments;
  if (lossS === null || firstActionS === null) return null;
  const { timeS, heightFt, bankSmoothDeg } = flight;
  const levelFt = recording.header.rubric.wingsLevelHeightFt;
  const span = samplesWithin(timeS, Math.max(firstActionS, lossS), moments.contactS ?? moments.endS);
  if (span === null || levelFt <= 0) return null;
  let worst: (LowTurn & { excess: number }) | null = null;
  let spell: (LowTurn & { excess: number }) | null = null;
  let sinceS: number | null = null;
  for (let i = span.first; i <= span.last; i++) {
    const height = heightFt[i] as number;
    const bankDeg = Math.abs(bankSmoothDeg[i] as number);
    const allowedDeg = CORRECTION_DEG + HIGHER_DEG * Math.max(0, Math.min(1, height / levelFt));
    const excess = bankDeg - allowedDeg;
    if (height >= levelFt || excess <= 0) {
      sinceS = null;
      spell = null;
      continue;
    }
    const atS = timeS[i] as number;
    sinceS ??= atS;
    if (spell === null || excess > spell.excess)
      spell = { atS, heightFt: Math.max(height, 0), bankDeg, steep: excess > STEEP_BY_DEG, excess };
    if (atS - sinceS >= HOLD_S && (worst === null || spell.excess > worst.excess)) worst = spell;
  }
  if (worst === null) return null;
  const { excess: _, ...found } = worst;
  return found;
}
