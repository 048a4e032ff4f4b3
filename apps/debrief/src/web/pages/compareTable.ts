// The table of students side by side: a row each with count, medians and spread, ordered by its column heads.
import { plainNumber } from '@stillprop/charts';
import { COMPARED_FIGURES, type Comparison, type StudentOrder } from '@stillprop/contracts';
import { html, nothing } from 'lit';
import { type CompareRoute, comparePath } from '../compareRoute.js';
import { FIGURE_WORDS, scaleOf, scaleWords, spreadCell } from '../elements/spreadBar.js';
import { nameOf } from './compareOrder.js';

/** Students in a page. */
export const STUDENTS_A_PAGE = 25;

/** @param onOrder Told when a column's head is clicked. */
export function studentsTable(comparison: Comparison, route: CompareRoute, onOrder: (order: StudentOrder) => void) {
  const { students, ranges, attempts, outOf, leftOut, total } = comparison;
  if (outOf === 0) return html`<p class="quiet">Nothing is scored here yet. Attempts appear as soon as they are.</p>`;
  const scales = COMPARED_FIGURES.map((figure) => [figure, scaleOf(ranges[figure], figure)] as const);
  const orders = [
    ['student', 'Pilot'],
    ['attempts', 'Attempts'],
    ...COMPARED_FIGURES.map((figure) => [figure, FIGURE_WORDS[figure].name] as const),
  ] as const;
  const heading = (order: StudentOrder, name: string, scale = '') => {
    const now = route.order === order;
    return html`<th scope="col" aria-sort=${now ? (route.downwards ? 'descending' : 'ascending') : 'none'}>
      <button @click=${() => onOrder(order)}>${name}${now ? (route.downwards ? ' ↓' : ' ↑') : ''}</button>
      ${scale === '' ? nothing : html`<span class="spread" title="Left and right end of the drawings">${scale}</span>`}</th>`;
  };
  return html`<p class="small quiet" data-testid="compared">${counted(attempts, outOf)} of ${plainNumber(total)} ${total === 1 ? 'pilot' : 'pilots'}. Of each figure: the median; a box for the middle half of the attempts, a
      line for all of them, on one scale a column. ${
        leftOut === 0
          ? nothing
          : `${plainNumber(leftOut)} attempts by other rubrics, revisions or engines are not in it: their scores do not compare.`
      }</p>
    <div class="field narrow-only"><label for="order">Order</label>
      <select id="order" data-testid="order" @change=${(event: Event) => onOrder((event.target as HTMLSelectElement).value as StudentOrder)}>
        ${orders.map(([order, name]) => html`<option value=${order} ?selected=${order === route.order}>${name}</option>`)}
      </select></div>
    <div class="students"><table data-testid="students">
      <thead><tr>${heading('student', 'Pilot')}${heading('attempts', 'Attempts')}${scales.map(([figure, scale]) =>
        heading(figure, FIGURE_WORDS[figure].name, scaleWords(scale, figure)),
      )}</tr></thead>
      <tbody>${students.map((row) => {
        const { student, attempts: own, figures } = row;
        const path = comparePath({ ...route, student, page: 1, before: null, attemptIds: [] });
        return html`<tr data-testid="student-row">
          <th scope="row">${student === null ? nameOf(row) : html`<a href=${path}>${student}</a>`}</th>
          <td data-label="Attempts">${plainNumber(own)}</td>
          ${scales.map(([figure, scale]) => html`<td data-label=${FIGURE_WORDS[figure].name}>${spreadCell(figures[figure], figure, scale, own)}</td>`)}
        </tr>`;
      })}</tbody>
    </table></div>
    ${students.length === 0 ? html`<p class="quiet" data-testid="none-left">No attempt is left: take something out of what they are narrowed by.</p>` : nothing}
    ${pages(total, route)}`;
}

function counted(attempts: number, outOf: number): string {
  const words = outOf === 1 ? '1 attempt' : `${plainNumber(outOf)} attempts`;
  return attempts === outOf ? words : `${plainNumber(attempts)} out of ${words}`;
}

function pages(total: number, route: CompareRoute) {
  const last = Math.max(1, Math.ceil(total / STUDENTS_A_PAGE));
  if (last === 1 && route.page === 1) return nothing;
  const to = (page: number) => comparePath({ ...route, page });
  return html`<nav aria-label="Pages of the students">
    ${route.page > 1 ? html`<a class="button" href=${to(Math.min(route.page - 1, last))} data-testid="page-before">Before</a>` : nothing}
    <span class="place" data-testid="page-place">Page ${plainNumber(route.page)} of ${plainNumber(last)}</span>
    ${route.page < last ? html`<a class="button" href=${to(route.page + 1)} data-testid="page-after">After</a>` : nothing}
  </nav>`;
}
