// A figure's spread as a small drawing: the range as a line, the middle half as a box, the median as a mark; one or two as dots.
import { plainNumber } from '@stillprop/charts';
import type { ComparedFigure, Spread } from '@stillprop/contracts';
import { html, nothing, svg } from 'lit';

export const FIGURE_WORDS: Readonly<
  Record<ComparedFigure, { readonly name: string; readonly unit: string; readonly decimals: number }>
> = {
  overall: { name: 'Score', unit: '', decimals: 0 },
  delayS: { name: 'Delay', unit: 's', decimals: 1 },
  bankDeg: { name: 'Bank', unit: '°', decimals: 0 },
  airspeedKt: { name: 'Airspeed', unit: 'kt', decimals: 0 },
  touchdownFt: { name: 'Touchdown', unit: 'ft', decimals: 0 },
  costFt: { name: 'Deviations cost', unit: 'ft', decimals: 0 },
};

const WIDTH_PX = 116;
const HEIGHT_PX = 16;
const DOT_PX = 3;

export interface Scale {
  readonly from: number;
  readonly to: number;
}

/** Differences below these are not worth a whole column's width. */
const LEAST_SPAN: Readonly<Record<ComparedFigure, number>> = {
  overall: 20,
  delayS: 1,
  bankDeg: 6,
  airspeedKt: 6,
  touchdownFt: 200,
  costFt: 20,
};

/** One scale for a column of spreads on all pages of it, so that rows can be compared by eye. */
export function scaleOf(range: Pick<Spread, 'lowest' | 'highest'> | null, figure: ComparedFigure): Scale {
  if (range === null) return { from: 0, to: LEAST_SPAN[figure] };
  const { lowest: from, highest: to } = range;
  const wider = Math.max(0, LEAST_SPAN[figure] - (to - from)) / 2;
  return { from: from - wider, to: to + wider };
}

export function figureText(value: number, figure: ComparedFigure): string {
  const { unit, decimals } = FIGURE_WORDS[figure];
  const text = plainNumber(value, decimals);
  return unit === '' ? text : unit === '°' ? `${text}°` : `${text}\u00a0${unit}`;
}

/** `62 to 88`: what the left and right end of a column's drawings stand for. */
export function scaleWords({ from, to }: Scale, figure: ComparedFigure): string {
  return `${plainNumber(from, FIGURE_WORDS[figure].decimals)} to ${figureText(to, figure)}`;
}

/**
 * Median in figures, the spread in words and as a drawing. The drawing is hidden from readers: the words say as much.
 *
 * @param attempts All of the row: where the figure was measured in fewer, their number is shown.
 */
export function spreadCell(spread: Spread | null, figure: ComparedFigure, { from, to }: Scale, attempts: number) {
  if (spread === null) return html`<span class="quiet">not measured</span>`;
  const x = (value: number) => 4 + ((value - from) / (to - from)) * (WIDTH_PX - 8);
  const { lowest, lowerQuartile, median, upperQuartile, highest, count } = spread;
  const plain = (value: number) => plainNumber(value, FIGURE_WORDS[figure].decimals);
  const middle = HEIGHT_PX / 2;
  const dot = (value: number) => svg`<circle class="dot" cx=${x(value)} cy=${middle} r=${DOT_PX}></circle>`;
  const box = () => svg`<line class="range" x1=${x(lowest)} y1=${middle} x2=${x(highest)} y2=${middle}></line>
      ${[lowest, highest].map((value) => svg`<line class="range" x1=${x(value)} y1=${middle - 4} x2=${x(value)} y2=${middle + 4}></line>`)}
      <rect class="half" x=${x(lowerQuartile)} y="3" width=${Math.max(1, x(upperQuartile) - x(lowerQuartile))} height=${HEIGHT_PX - 6}></rect>
      <line class="middle" x1=${x(median)} y1="0" x2=${x(median)} y2=${HEIGHT_PX}></line>`;
  return html`<span class="median">${figureText(median, figure)}</span>
    <svg class="spread-drawing" width=${WIDTH_PX} height=${HEIGHT_PX} viewBox="0 0 ${WIDTH_PX} ${HEIGHT_PX}" aria-hidden="true">
      <line class="axis" x1="4" x2=${WIDTH_PX - 4} y1=${HEIGHT_PX - 0.5} y2=${HEIGHT_PX - 0.5}></line>
      ${count > 2 ? box() : [lowest, highest].slice(0, count).map(dot)}
    </svg>
    <span class="spread">${
      count === 1
        ? 'one'
        : count === 2
          ? `${plain(lowest)} and ${plain(highest)}`
          : html`${plain(lowerQuartile)} to ${plain(upperQuartile)}<span class="unseen"> for the middle half, ${plain(lowest)} to ${plain(highest)} for all</span>`
    }${count > 1 && count !== attempts ? html`, of ${plainNumber(count)}` : nothing}</span>`;
}
