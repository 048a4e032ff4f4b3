// How a figure changed from a student's first five attempts to the last five: an interval, and words that claim no more.
import { plainNumber } from '@stillprop/charts';
import { type ComparedFigure, type FigureProgress, TREND_ATTEMPTS } from '@stillprop/contracts';
import { FIGURE_WORDS, figureText } from '../elements/spreadBar.js';

/** Fewer have no five at the beginning that are not at the end too. */
export const LEAST_FOR_TREND = 2 * TREND_ATTEMPTS;
/**
 * Of the 25 differences between five and five, the third from either end bound the shift with 97 % confidence: as many
 * of the 252 orders of ten values that owe nothing to time lie within (244). It is the rank-sum test turned round (Mann and
 * Whitney 1947), and asks for no shape of the spread.
 */
const BOUND_FROM_END = 3;
export const TREND_CONFIDENCE = 0.97;

export interface Trend {
  readonly firstMedian: number;
  readonly lastMedian: number;
  /** Bounds of the change, last less first. */
  readonly from: number;
  readonly to: number;
}

/** null: too few were measured. */
export function trendOf({ first, last, measured }: Pick<FigureProgress, 'first' | 'last' | 'measured'>): Trend | null {
  if (measured < LEAST_FOR_TREND || first.length < TREND_ATTEMPTS || last.length < TREND_ATTEMPTS) return null;
  const differences = last.flatMap((after) => first.map((before) => after - before)).sort((a, b) => a - b);
  return {
    firstMedian: median(first),
    lastMedian: median(last),
    from: differences[BOUND_FROM_END - 1] as number,
    to: differences[differences.length - BOUND_FROM_END] as number,
  };
}

export function trendWords(progress: FigureProgress, figure: ComparedFigure): string {
  const trend = trendOf(progress);
  if (trend === null) {
    return progress.measured === 0
      ? 'Not measured.'
      : `Measured in ${progress.measured}: a trend is told from ${LEAST_FOR_TREND} on.`;
  }
  const { firstMedian, lastMedian, from, to } = trend;
  const medians = `First five ${figureText(firstMedian, figure)}, last five ${figureText(lastMedian, figure)}`;
  const { decimals } = FIGURE_WORDS[figure];
  // As they will be read: what rounds to nothing is no change.
  const [low, high] = [rounded(from, decimals), rounded(to, decimals)];
  if (low > 0) return `${medians}: more by ${between(low, high, figure)}.`;
  if (high < 0) return `${medians}: less by ${between(-high, -low, figure)}.`;
  return `${medians}: no clear change (${signed(low, figure)} to ${signed(high, figure)}).`;
}

const rounded = (value: number, decimals: number) => Math.round(value * 10 ** decimals) / 10 ** decimals;

function between(low: number, high: number, figure: ComparedFigure): string {
  return low === high
    ? figureText(low, figure)
    : `${plainNumber(low, FIGURE_WORDS[figure].decimals)} to ${figureText(high, figure)}`;
}

function signed(value: number, figure: ComparedFigure): string {
  return value > 0 ? `+${figureText(value, figure)}` : figureText(value, figure);
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] as number;
}
