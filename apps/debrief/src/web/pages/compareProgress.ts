// One student over time: each figure against the attempt's number, small drawings of one kind, the trend in words under each.
import { plainNumber } from '@stillprop/charts';
import { COMPARED_FIGURES, type ComparedFigure, type FigureProgress, type Progress } from '@stillprop/contracts';
import { html, nothing, svg } from 'lit';
import { FIGURE_WORDS, figureText, scaleOf } from '../elements/spreadBar.js';
import { dateWords } from '../words.js';
import { LEAST_FOR_TREND, TREND_CONFIDENCE, trendWords } from './compareTrend.js';

const WIDTH_PX = 190;
const HEIGHT_PX = 84;
const EDGE_PX = 6;

export function progressPanels({ attempts, figures }: Progress) {
  if (attempts < 2) return nothing;
  return html`<section class="progress" data-testid="progress" aria-label="Over time">
    <h2>Over time</h2>
    <div class="panels">${COMPARED_FIGURES.map((figure) => panel(figures[figure], figure))}</div>
    ${
      attempts < LEAST_FOR_TREND
        ? nothing
        : html`<p class="small quiet">Attempts left to right, the oldest first. Five and five: medians, and the change within which all 25 pairs of a first and a last attempt put it with ${plainNumber(TREND_CONFIDENCE * 100)} % confidence.</p>`
    }
    <details class="figures"><summary>Over time as a table</summary>${table(figures)}</details>
  </section>`;
}

function panel(progress: FigureProgress, figure: ComparedFigure) {
  const { steps } = progress;
  const known = steps.flatMap(({ lowest, highest }) =>
    lowest === null || highest === null ? [] : [{ lowest, highest }],
  );
  const range = known.reduce<{ lowest: number; highest: number } | null>(
    (ends, { lowest, highest }) => ({
      lowest: Math.min(lowest, ends?.lowest ?? lowest),
      highest: Math.max(highest, ends?.highest ?? highest),
    }),
    null,
  );
  const words = trendWords(progress, figure);
  const { from, to } = scaleOf(range, figure);
  const x = (i: number) =>
    steps.length < 2 ? WIDTH_PX / 2 : EDGE_PX + (i / (steps.length - 1)) * (WIDTH_PX - 2 * EDGE_PX);
  const y = (value: number) => HEIGHT_PX - EDGE_PX - ((value - from) / (to - from)) * (HEIGHT_PX - 2 * EDGE_PX);
  return html`<figure>
    <figcaption><b>${FIGURE_WORDS[figure].name}</b> <span class="quiet small">${range === null ? '' : `${figureText(range.lowest, figure)} to ${figureText(range.highest, figure)}`}</span></figcaption>
    <svg viewBox="0 0 ${WIDTH_PX} ${HEIGHT_PX}" role="img" aria-label="${FIGURE_WORDS[figure].name} over time. ${words}">
      <line class="axis" x1="0" x2=${WIDTH_PX} y1=${HEIGHT_PX - 0.5} y2=${HEIGHT_PX - 0.5}></line>
      ${steps.map(({ lowest, median, highest }, i) =>
        lowest === null || median === null || highest === null
          ? nothing
          : svg`${highest > lowest ? svg`<line class="range" x1=${x(i)} x2=${x(i)} y1=${y(lowest)} y2=${y(highest)}></line>` : nothing}
            <circle class="dot" cx=${x(i)} cy=${y(median)} r="2.6"></circle>`,
      )}
    </svg>
    <p class="small">${words}</p>
  </figure>`;
}

/** Steps are of the same attempts for every figure. */
function table(figures: Progress['figures']) {
  const { steps } = figures.overall;
  return html`<div class="box" tabindex="0" role="region" aria-label="Figures over time"><table>
    <thead><tr><th scope="col">Attempt</th><th scope="col">Flown</th>${COMPARED_FIGURES.map((figure) => html`<th scope="col">${FIGURE_WORDS[figure].name}</th>`)}</tr></thead>
    <tbody>${steps.map(
      ({ from, to, startedAt }, i) => html`<tr>
        <th scope="row">${from === to ? from : `${from} to ${to}, medians`}</th><td>${from === to ? '' : 'from '}${dateWords(startedAt)}</td>
        ${COMPARED_FIGURES.map((figure) => {
          const median = figures[figure].steps[i]?.median ?? null;
          return html`<td>${median === null ? '—' : figureText(median, figure)}</td>`;
        })}</tr>`,
    )}</tbody>
  </table></div>`;
}
