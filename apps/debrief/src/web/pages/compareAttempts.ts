// One student's attempts, newest first, a page at a time, each with a box to tick for showing it together with others.
import { plainNumber } from '@stillprop/charts';
import { type AttemptList, COMPARED_FIGURES } from '@stillprop/contracts';
import { html, nothing } from 'lit';
import { type CompareRoute, comparePath, MOST_TOGETHER } from '../compareRoute.js';
import { FIGURE_WORDS, figureText } from '../elements/spreadBar.js';
import { attemptPath } from '../routes.js';
import { dateWords, OUTCOME_WORDS } from '../words.js';

/** Attempts in a page. */
export const ATTEMPTS_A_PAGE = 25;

/** @param onTick Told the id of an attempt whose box was clicked. */
export function attemptsTable(
  { attempts, total, next }: AttemptList,
  route: CompareRoute & { readonly student: string },
  onTick: (attemptId: string) => void,
) {
  const { student, ticked, before } = route;
  const full = ticked.length >= MOST_TOGETHER;
  const count = total === 1 ? '1 attempt' : `${plainNumber(total)} attempts`;
  return html`<p class="small quiet"><span data-testid="attempts-count">${count}</span>, newest first${before === null ? '' : '; an older page'}.<span class="screen-only"> Tick two to see what changed between them, up to ${MOST_TOGETHER} to see their tracks over each other.</span></p>
    <div class="box" tabindex="0" role="region" aria-label="Attempts of ${student}"><table data-testid="student-attempts">
      <thead><tr><th scope="col" class="screen-only"><span class="unseen">Show together</span></th><th scope="col">Flown</th><th scope="col">Power lost at</th>${COMPARED_FIGURES.map((figure) => html`<th scope="col">${FIGURE_WORDS[figure].name}</th>`)}<th scope="col">Outcome</th></tr></thead>
      <tbody>${attempts.map((attempt) => {
        const { attemptId, startedAt, failureHeightFt, outcome } = attempt;
        const isTicked = ticked.includes(attemptId);
        return html`<tr>
          <td class="screen-only"><input type="checkbox" aria-label="Show the attempt of ${dateWords(startedAt)} together with others" .checked=${isTicked}
            ?disabled=${full && !isTicked} @change=${() => onTick(attemptId)} /></td>
          <th scope="row"><a href=${attemptPath(attemptId)}>${dateWords(startedAt)}</a></th>
          <td>${failureHeightFt === null ? '—' : `${plainNumber(failureHeightFt)} ft`}</td>
          ${COMPARED_FIGURES.map((figure) => {
            const value = attempt[figure];
            return html`<td>${value === null ? '—' : figureText(value, figure)}</td>`;
          })}
          <td>${outcome === null ? 'not scored' : OUTCOME_WORDS[outcome]}</td></tr>`;
      })}</tbody>
    </table></div>
    <nav aria-label="Pages of the attempts">
      ${before === null ? nothing : html`<a class="button" href=${comparePath({ ...route, before: null })}>Newest</a>`}
      ${next === null ? nothing : html`<a class="button" href=${comparePath({ ...route, before: next })} data-testid="older">Older</a>`}
      <a class="button" href=${comparePath({ ...route, student: null, before: null, attemptIds: [] })}>All students</a>
    </nav>`;
}

/** What is ticked, on whichever page: kept until it is shown or taken back. */
export function tickedBar(route: CompareRoute, onClear: () => void) {
  const { ticked } = route;
  if (ticked.length === 0 && route.student === null) return nothing;
  return html`<div class="ticked" role="status" data-testid="ticked">
    <span>${ticked.length === 0 ? 'No attempt is ticked.' : ticked.length === 1 ? 'One attempt is ticked.' : `${ticked.length} attempts are ticked${ticked.length === MOST_TOGETHER ? ': more cannot be told apart' : ''}.`}</span>
    ${
      ticked.length < 2
        ? nothing
        : html`<a class="button main" href=${comparePath({ ...route, attemptIds: ticked })} data-testid="show-together">${ticked.length === 2 ? 'What changed between the two' : 'Tracks over each other'}</a>`
    }
    ${ticked.length === 0 ? nothing : html`<button class="button" @click=${onClear}>Untick all</button>`}
  </div>`;
}
