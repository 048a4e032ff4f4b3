// Power after the failure as a function of time: none, part of it, or one that comes and goes.
import type { FailureNumbers } from './request.js';

/** Walks through the changes of one flight; make a new one for each. */
export class PowerSchedule {
  private next = 0;
  private readonly changes: NonNullable<FailureNumbers['powerChanges']>;

  constructor(failure: Pick<FailureNumbers, 'powerChanges'>) {
    this.changes = failure.powerChanges ?? [];
  }

  /** Time of the next change (s after the failure); infinite when there is none. */
  get nextAtS(): number {
    return this.changes[this.next]?.atS ?? Number.POSITIVE_INFINITY;
  }

  /** Power asked of the engine from now on, if a change is due; null when none is. */
  dueAt(timeS: number): number | null {
    let power: number | null = null;
    while (this.nextAtS <= timeS + 1e-9) {
      power = this.changes[this.next]?.powerFraction ?? 0;
      this.next++;
    }
    return power;
  }
}

/** Largest power a failed engine still gives at any time. */
export function mostPower({ powerFraction, powerChanges = [] }: FailureNumbers): number {
  return powerChanges.reduce((most, change) => Math.max(most, change.powerFraction), powerFraction);
}

/**
 * Changes of a surging engine: low and high by turns, beginning low at the failure.
 *
 * @param options.periodS Time of one low and one high together (s); each takes half.
 * @param options.untilS The last change comes before this time (s), and leaves it low.
 * @throws {RangeError} If a number is out of range.
 */
export function surgingPower(options: {
  readonly low: number;
  readonly high: number;
  readonly periodS: number;
  readonly untilS: number;
}): { atS: number; powerFraction: number }[] {
  const { low, high, periodS, untilS } = options;
  if (!(low >= 0 && low < high && high <= 0.99))
    throw new RangeError(`low and high must be 0 to 0.99, low below high, got ${low} and ${high}`);
  if (!(periodS >= 0.5 && periodS <= 120)) throw new RangeError(`periodS must be 0.5 to 120 s, got ${periodS}`);
  if (!(untilS >= periodS && untilS <= 600))
    throw new RangeError(`untilS must be periodS (${periodS}) to 600 s, got ${untilS}`);
  const changes: { atS: number; powerFraction: number }[] = [];
  for (let period = 0; (period + 1) * periodS <= untilS; period++) {
    changes.push({ atS: (period + 0.5) * periodS, powerFraction: high });
    changes.push({ atS: (period + 1) * periodS, powerFraction: low });
  }
  return changes;
}
