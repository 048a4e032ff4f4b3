// What changed between two attempts, figure by figure, in words for a table.
import { plainNumber } from '@stillprop/charts';
import type { Score } from '@stillprop/contracts';

export interface DifferenceRow {
  readonly name: string;
  readonly a: string;
  readonly b: string;
  /** Second less first; empty: one of them is not known. */
  readonly difference: string;
}

const COST_NAMES = {
  delay: 'Delay cost',
  bank: 'Bank cost',
  airspeed: 'Airspeed cost',
  side: 'Side of the turn cost',
} as const;

export function differenceRows(first: Score, second: Score): DifferenceRow[] {
  const row = (name: string, of: (score: Score) => number | null, unit: string, decimals = 0): DifferenceRow => {
    const [a, b] = [of(first), of(second)];
    return {
      name,
      a: text(a, unit, decimals),
      b: text(b, unit, decimals),
      difference: a === null || b === null ? '' : signed(b - a, unit, decimals),
    };
  };
  const costs = (Object.keys(COST_NAMES) as (keyof typeof COST_NAMES)[])
    // What cost nothing in either is no difference to look at.
    .filter((code) => [first, second].some((score) => (costOf(score, code) ?? 0) !== 0))
    .map((code) => row(COST_NAMES[code], (score) => costOf(score, code), ' ft'));
  return [
    row('Score', ({ overall }) => overall, ''),
    row('Power lost at', ({ failure }) => failure?.heightFt ?? null, ' ft'),
    row('Height a return needed', ({ verdict }) => verdict.neededFt, ' ft'),
    row('Delay', ({ criteria }) => criteria.delay.measured, ' s', 1),
    row('Bank in the turn', ({ criteria }) => criteria.bank.measured, '°'),
    row('Airspeed', ({ criteria }) => criteria.airspeed.measured, ' kt'),
    row('Touchdown beyond the aim point', ({ criteria }) => criteria.touchdown.measured, ' ft'),
    ...costs,
    row('Deviations cost in all', ({ costs: found }) => found?.totalFt ?? null, ' ft'),
  ];
}

const ABSENT = 'not measured';

/** A deviation that was none cost nothing, where the costs are known at all. */
function costOf({ costs }: Score, code: string): number | null {
  if (costs === null || costs.totalFt === null) return null;
  return costs.rows.find((row) => row.code === code)?.costFt ?? 0;
}

function text(value: number | null, unit: string, decimals: number): string {
  return value === null ? ABSENT : plainNumber(value, decimals) + unit.replace(' ', '\u00a0');
}

function signed(value: number, unit: string, decimals: number): string {
  const plain = text(value, unit, decimals);
  return value > 0 && /[1-9]/.test(plain) ? `+${plain}` : plain;
}
