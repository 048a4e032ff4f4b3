// Page: students side by side at one scenario by one rubric; one student's attempts; the difference between two of them.
import { plainNumber } from '@stillprop/charts';
import {
  type AttemptList,
  COMPARED_FIGURES,
  type Comparable,
  type ComparedFigure,
  type Comparison,
  type StudentFigures,
} from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { type CompareChoice, getComparable, getComparison, getStudentAttempts } from '../api.js';
import { failureNotice, loadingNotice } from '../elements/notices.js';
import { FIGURE_WORDS, figureText, scaleOf, spreadCell } from '../elements/spreadBar.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath, type CompareRoute, comparePath, FLY_PATH, goTo } from '../routes.js';
import { dateWords, OUTCOME_WORDS } from '../words.js';
import { named, nameOf, nextOrder, type Order, type OrderBy, ordered } from './compareOrder.js';
import { compareStyles } from './compareStyles.js';
import './compareTwo.js';

@customElement('compare-page')
export class ComparePage extends LitElement {
  static override styles = [pageStyles, compareStyles];
  @property({ attribute: false }) choice!: CompareRoute;
  @state() private choices: readonly Comparable[] | null = null;
  @state() private comparison: Comparison | null = null;
  @state() private attempts: AttemptList | null = null;
  @state() private failure: unknown = null;
  @state() private order: Order = { by: 'student', downwards: false };
  @state() private typed = '';
  @state() private picked: readonly string[] = [];
  private loading: AbortController | undefined;

  override disconnectedCallback() {
    super.disconnectedCallback();
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.has('choice')) this.load();
  }

  override render() {
    if (this.failure) return failureNotice(this.failure, () => this.load());
    const { choices, choice } = this;
    if (choices === null) return loadingNotice('Reading what can be compared …');
    if (choice.attemptIds.length === 2) {
      return html`<div class="head"><h1>Two attempts</h1></div><compare-two .attemptIds=${choice.attemptIds}></compare-two>
        <nav><a class="button" href=${comparePath({ ...choice, attemptIds: [] })}>Back to the comparison</a></nav>`;
    }
    if (choices.length === 0) return this.none();
    const current = this.current();
    return html`<div class="head">
        <h1>${choice.student ?? 'Students side by side'}</h1>
        <div class="choice">
          <div class="field wide"><label for="what">Scenario and rubric</label>
            <select id="what" data-testid="compare-choice" @change=${(event: Event) => this.choose(Number((event.target as HTMLSelectElement).value))}>
              ${choices.map((each, i) => html`<option value=${i} ?selected=${each === current}>${each.scenarioName}, rubric ${each.rubricId} revision ${each.rubricRevision} (${plainNumber(each.attempts)})</option>`)}
            </select></div>
          ${
            choice.student === null
              ? html`<div class="field"><label for="name">Name</label>
                  <input id="name" type="search" data-testid="compare-name" .value=${this.typed} @input=${(
                    event: Event,
                  ) => {
                    this.typed = (event.target as HTMLInputElement).value;
                  }} /></div>`
              : nothing
          }
          <a class="button" href=${this.exportPath()} download data-testid="export-csv">Scores as CSV</a>
          <button class="button" @click=${() => print()}>Print</button>
        </div>
      </div>
      ${choice.student === null ? this.students() : this.student(choice.student)}`;
  }

  private students() {
    const { comparison } = this;
    if (comparison === null) return loadingNotice('Comparing …');
    const rows = ordered(named(comparison.students, this.typed), this.order);
    if (comparison.students.length === 0)
      return html`<p class="quiet">Nothing is scored here yet. Attempts appear as soon as they are.</p>`;
    const scales = new Map(
      COMPARED_FIGURES.map((figure) => [
        figure,
        scaleOf(
          rows.map(({ figures }) => figures[figure]),
          figure,
        ),
      ]),
    );
    return html`<p class="small quiet">Of each figure the median, the middle half of the attempts, and their range on one scale a column. ${
      comparison.leftOut === 0
        ? nothing
        : `${plainNumber(comparison.leftOut)} attempts by other rubrics, revisions or engines are not in it: their scores do not compare.`
    }</p>
      <div class="students"><table data-testid="students">
        <thead><tr>${this.heading('student', 'Pilot')}${this.heading('attempts', 'Attempts')}${COMPARED_FIGURES.map((figure) => this.heading(figure, FIGURE_WORDS[figure].name))}</tr></thead>
        <tbody>${rows.map((row) => this.row(row, scales))}</tbody>
      </table></div>
      ${rows.length === 0 ? html`<p class="quiet">No pilot's name holds “${this.typed}”.</p>` : nothing}`;
  }

  private heading(by: OrderBy, name: string) {
    const { order } = this;
    const sorted = order.by === by ? (order.downwards ? 'descending' : 'ascending') : 'none';
    return html`<th scope="col" aria-sort=${sorted}><button @click=${() => {
      this.order = nextOrder(order, by);
    }}>${name}${order.by === by ? (order.downwards ? ' ↓' : ' ↑') : ''}</button></th>`;
  }

  private row(row: StudentFigures, scales: ReadonlyMap<ComparedFigure, ReturnType<typeof scaleOf>>) {
    const { student, attempts, figures } = row;
    return html`<tr data-testid="student-row">
      <th scope="row">${student === null ? nameOf(row) : html`<a href=${comparePath({ ...this.choice, ...this.current(), student, attemptIds: [] })}>${student}</a>`}</th>
      <td data-label="Attempts">${plainNumber(attempts)}</td>
      ${COMPARED_FIGURES.map((figure) => html`<td data-label=${FIGURE_WORDS[figure].name}>${spreadCell(figures[figure], figure, scales.get(figure) ?? { from: 0, to: 1 })}</td>`)}
    </tr>`;
  }

  private student(student: string) {
    const { attempts, picked } = this;
    if (attempts === null) return loadingNotice('Reading the attempts …');
    return html`<p class="small quiet">Newest first${attempts.next === null ? '' : ', the newest 200'}. Tick two to see what changed between them.</p>
      <div class="box" tabindex="0" role="region" aria-label="Attempts of ${student}"><table data-testid="student-attempts">
        <thead><tr><th scope="col"><span class="unseen">Compare</span></th><th scope="col">Flown</th><th scope="col">Power lost at</th>${COMPARED_FIGURES.map((figure) => html`<th scope="col">${FIGURE_WORDS[figure].name}</th>`)}<th scope="col">Outcome</th></tr></thead>
        <tbody>${attempts.attempts.map(
          (attempt) => html`<tr>
            <td><input type="checkbox" aria-label="Compare the attempt of ${dateWords(attempt.startedAt)}" .checked=${picked.includes(attempt.attemptId)}
              @change=${() => this.pick(attempt.attemptId)} /></td>
            <th scope="row"><a href=${attemptPath(attempt.attemptId)}>${dateWords(attempt.startedAt)}</a></th>
            <td>${attempt.failureHeightFt === null ? '—' : `${plainNumber(attempt.failureHeightFt)} ft`}</td>
            ${COMPARED_FIGURES.map((figure) => {
              const value = attempt[figure];
              return html`<td>${value === null ? '—' : figureText(value, figure)}</td>`;
            })}
            <td>${attempt.outcome === null ? 'not scored' : OUTCOME_WORDS[attempt.outcome]}</td></tr>`,
        )}</tbody>
      </table></div>
      <nav>
        <button class="button main" ?disabled=${picked.length !== 2} data-testid="difference-of-two"
          @click=${() => goTo(comparePath({ ...this.choice, attemptIds: picked }))}>What changed between the two</button>
        <a class="button" href=${comparePath({ ...this.choice, student: null, attemptIds: [] })}>All students</a>
      </nav>`;
  }

  private none() {
    return html`<div class="empty" data-testid="nothing-to-compare">
      <h1>There is nothing to compare yet.</h1>
      <p class="quiet">Attempts of one scenario stand here side by side as soon as they are flown and scored.</p>
      <a class="button main" href=${FLY_PATH}>Fly one</a>
    </div>`;
  }

  /** The older of the two is the first, whichever was ticked first. */
  private pick(attemptId: string) {
    const { picked, attempts } = this;
    const next = picked.includes(attemptId)
      ? picked.filter((id) => id !== attemptId)
      : [...picked.slice(-1), attemptId];
    const at = (id: string) => attempts?.attempts.find((each) => each.attemptId === id)?.startedAt ?? '';
    this.picked = next.sort((a, b) => (at(a) < at(b) ? -1 : 1));
  }

  private current(): Comparable | undefined {
    const { scenarioId, rubricId, rubricRevision } = this.choice;
    const found = this.choices?.find(
      (each) => each.scenarioId === scenarioId && each.rubricId === rubricId && each.rubricRevision === rubricRevision,
    );
    return found ?? this.choices?.[0];
  }

  private choose(index: number) {
    const chosen = this.choices?.[index];
    if (chosen === undefined) return;
    const { scenarioId, rubricId, rubricRevision } = chosen;
    goTo(comparePath({ ...this.choice, scenarioId, rubricId, rubricRevision, attemptIds: [] }));
  }

  private exportPath(): string {
    const current = this.current();
    const { student } = this.choice;
    const query = new URLSearchParams({
      ...(current === undefined
        ? {}
        : {
            scenarioId: current.scenarioId,
            rubricId: current.rubricId,
            rubricRevision: String(current.rubricRevision),
          }),
      ...(student === null ? {} : { student }),
    });
    return `/api/export/scores.csv?${query}`;
  }

  private async load() {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    const { signal } = loading;
    this.failure = null;
    this.comparison = null;
    this.attempts = null;
    this.picked = [];
    try {
      this.choices = await getComparable(signal);
      const current: CompareChoice | undefined = this.current();
      if (current === undefined || this.choice.attemptIds.length === 2) return;
      const { scenarioId, rubricId, rubricRevision } = current;
      const wanted = { scenarioId, rubricId, rubricRevision };
      if (this.choice.student === null) this.comparison = await getComparison(wanted, signal);
      else this.attempts = await getStudentAttempts(wanted, this.choice.student, signal);
    } catch (error) {
      if (!signal.aborted) this.failure = error;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'compare-page': ComparePage;
  }
}
