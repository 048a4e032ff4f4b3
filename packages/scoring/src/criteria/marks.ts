// Shared by the criteria: marks that fall linearly, and the shape a criterion has before weights are shared out.
import type { Criterion } from '@stillprop/contracts';

/** A criterion without its share of the total. */
export type Marked = Omit<Criterion, 'weight'>;

/** 100 up to `full`, 0 from `zero`, linear between; `excess` and both limits in the same unit. */
export function marks(excess: number, full: number, zero: number): number {
  if (excess <= full) return 100;
  if (excess >= zero) return 0;
  return (100 * (zero - excess)) / (zero - full);
}

/** A criterion that the recording, or this kind of attempt, says nothing about. */
export function notMeasured(target: number, unit: string, band: Criterion['band'], text: string): Marked {
  return { score: null, measured: null, target, unit, band, atS: null, text, details: {} };
}
