// A figure's spread as a small drawing: the range as a line, the middle half as a box, the median as a mark.
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

const WIDTH_PX = 110;
const HEIGHT_PX = 14;

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

/** One scale for a column of spreads, so that rows can be compared by eye. */
export function scaleOf(spreads: readonly (Spread | null)[], figure: ComparedFigure): Scale {
  const known = spreads.filter((spread) => spread !== null);
  if (known.length === 0) return { from: 0, to: LEAST_SPAN[figure] };
  const from = known.reduce((least, { lowest }) => Math.min(least, lowest), Number.POSITIVE_INFINITY);
  const to = known.reduce((most, { highest }) => Math.max(most, highest), Number.NEGATIVE_INFINITY);
  const wider = Math.max(0, LEAST_SPAN[figure] - (to - from)) / 2;
  return { from: from - wider, to: to + wider };
}

export function figureText(value: number, figure: ComparedFigure): string {
  const { unit, decimals } = FIGURE_WORDS[figure];
  const text = plainNumber(value, decimals);
  return unit === '' ? text : unit === '°' ? `${text}°` : `${text}\u00a0${unit}`;
}

/** Median in figures, the spread in words and as a drawing; the drawing is hidden from readers, the words are not. */
export function spreadCell(spread: Spread | null, figure: ComparedFigure, { from, to }: Scale) {
  if (spread === null) return html`<span class="quiet">not measured</span>`;
  const x = (value: number) => 4 + ((value - from) / (to - from)) * (WIDTH_PX - 8);
  const { lowest, lowerQuartile, median, upperQuartile, highest, count } = spread;
  const plain = (value: number) => plainNumber(value, FIGURE_WORDS[figure].decimals);
  const middle = HEIGHT_PX / 2;
  return html`<span class="median">${figureText(median, figure)}</span>
    <svg width=${WIDTH_PX} height=${HEIGHT_PX} aria-hidden="true">
      ${svg`<line class="range" x1=${x(lowest)} y1=${middle} x2=${x(highest)} y2=${middle}></line>`}
      ${count > 2 ? svg`<rect class="half" x=${x(lowerQuartile)} y="2.5" width=${Math.max(1, x(upperQuartile) - x(lowerQuartile))} height=${HEIGHT_PX - 5}></rect>` : nothing}
      ${svg`<line class="middle" x1=${x(median)} y1="0" x2=${x(median)} y2=${HEIGHT_PX}></line>`}
    </svg>
    <span class="spread">${
      count === 1
        ? 'one'
        : count === 2
          ? `${plain(lowest)} and ${plain(highest)}`
          : `${plain(lowerQuartile)} to ${plain(upperQuartile)}`
    }</span>`;
}
