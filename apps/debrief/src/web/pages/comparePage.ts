// Page: students side by side at one scenario by one rubric; one student's attempts over time; several attempts together.
import { plainNumber } from '@stillprop/charts';
import type { AttemptList, Comparable, Comparison, Progress } from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { getComparable, getComparison, getProgress, getStudentAttempts } from '../api.js';
import { type CompareRoute, comparePath, MOST_TOGETHER } from '../compareRoute.js';
import { failureNotice, loadingNotice } from '../elements/notices.js';
import { liveFeed } from '../liveFeed.js';
import { pageStyles } from '../pageStyles.js';
import { FLY_PATH, goTo, nowAt } from '../routes.js';
import { ATTEMPTS_A_PAGE, attemptsTable, tickedBar } from './compareAttempts.js';
import { type FilterChange, filtersForm } from './compareFilters.js';
import { filterQuery } from './compareFilterWords.js';
import { nextOrder } from './compareOrder.js';
import { progressPanels } from './compareProgress.js';
import { compareStyles } from './compareStyles.js';
import { STUDENTS_A_PAGE, studentsTable } from './compareTable.js';
import './compareTogether.js';
import './compareTwo.js';

/** What is typed goes to the server when the typing rests. */
const TYPING_RESTS_MS = 250;

@customElement('compare-page')
export class ComparePage extends LitElement {
  static override styles = [pageStyles, compareStyles];
  @property({ attribute: false }) choice!: CompareRoute;
  @state() private choices: readonly Comparable[] | null = null;
  @state() private comparison: Comparison | null = null;
  @state() private attempts: AttemptList | null = null;
  @state() private progress: Progress | null = null;
  /** The choice, without its page, that `progress` is of. */
  private progressOf = '';
  @state() private failure: unknown = null;
  private loading: AbortController | undefined;
  private typing: ReturnType<typeof setTimeout> | undefined;
  /** Typed, and not yet asked for. */
  private typed: string | null = null;

  private onBack = () => {
    if (this.failure) this.load();
  };

  override connectedCallback() {
    super.connectedCallback();
    liveFeed.addEventListener('back', this.onBack);
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    liveFeed.removeEventListener('back', this.onBack);
    clearTimeout(this.typing);
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (!changed.has('choice')) return;
    const before = changed.get('choice') as CompareRoute | undefined;
    if (before?.student !== this.choice.student) this.forgetTyped();
    // Ticking alone changes nothing that the server knows.
    if (before === undefined || withoutTicks(before) !== withoutTicks(this.choice)) this.load(before);
  }

  override render() {
    if (this.failure) return failureNotice(this.failure, () => this.load());
    const { choices, choice } = this;
    if (choices === null) return loadingNotice('Reading what can be compared …');
    if (choice.attemptIds.length >= 2) return this.together(choice.attemptIds);
    const current = this.current();
    if (current === undefined) return this.none();
    const { student, filter } = choice;
    return html`<div class="head">
        <h1>${student ?? 'Students side by side'}</h1>
        <div class="choice">
          <div class="field wide"><label for="what">Scenario and rubric</label>
            <select id="what" data-testid="compare-choice" @change=${(event: Event) => this.choose(Number((event.target as HTMLSelectElement).value))}>
              ${choices.map((each, i) => html`<option value=${i} ?selected=${each === current}>${comparableWords(each)}</option>`)}
            </select></div>
          ${
            student === null
              ? html`<div class="field"><label for="name">Name</label>
                  <input id="name" type="search" maxlength="100" data-testid="compare-name" .value=${filter.name} @input=${this.onTyped} /></div>`
              : nothing
          }
          <a class="button" href=${this.exportPath(current)} download data-testid="export-csv">Scores as CSV</a>
          <button class="button" @click=${() => print()}>Print</button>
        </div>
        <p class="paper-only">${comparableWords(current)}</p>
        ${filtersForm(filter, student === null ? (this.comparison?.outcomes ?? null) : null, (change) => this.narrow(change))}
      </div>
      ${student === null ? this.students() : this.student(student)}
      ${tickedBar(choice, () => this.turn({ ticked: [] }))}`;
  }

  private students() {
    if (this.comparison === null) return loadingNotice('Comparing …');
    return studentsTable(this.comparison, { ...this.choice, ...this.rubric() }, (order) =>
      this.turn({ ...nextOrder(this.choice, order), page: 1 }),
    );
  }

  private student(student: string) {
    if (this.attempts === null || this.progress === null) return loadingNotice('Reading the attempts …');
    return html`${progressPanels(this.progress)}
      ${attemptsTable(this.attempts, { ...this.choice, ...this.rubric(), student }, (id) => this.tick(id))}`;
  }

  private together(attemptIds: readonly string[]) {
    const back = comparePath({ ...this.choice, attemptIds: [] });
    return html`<div class="head"><h1>${attemptIds.length === 2 ? 'Two attempts' : `${attemptIds.length} attempts together`}</h1></div>
      ${
        attemptIds.length === 2
          ? html`<compare-two .attemptIds=${attemptIds}></compare-two>`
          : html`<compare-together .attemptIds=${attemptIds}></compare-together>`
      }
      <nav aria-label="Comparison"><a class="button" href=${back}>Back to the comparison</a> <button class="button" @click=${() => print()}>Print</button></nav>`;
  }

  private none() {
    return html`<div class="empty" data-testid="nothing-to-compare">
      <h1>There is nothing to compare yet.</h1>
      <p class="quiet">Attempts of one scenario stand here side by side as soon as they are flown and scored.</p>
      <a class="button main" href=${FLY_PATH}>Fly one</a>
    </div>`;
  }

  /** Shows something else on the same page; the address says so, focus and place stay. */
  private turn(change: Partial<CompareRoute>) {
    this.choice = { ...this.choice, ...change };
    nowAt(comparePath(this.choice));
  }

  /** What was typed belongs to the students side by side, wherever the page has gone meanwhile. */
  private forgetTyped() {
    clearTimeout(this.typing);
    this.typed = null;
  }

  private narrow(change: FilterChange) {
    clearTimeout(this.typing);
    const { filter } = this.choice;
    const typed = this.typed === null ? filter : { ...filter, name: this.typed };
    this.typed = null;
    this.turn({ filter: change(typed), page: 1, before: null });
  }

  private onTyped = (event: Event) => {
    this.typed = (event.target as HTMLInputElement).value;
    clearTimeout(this.typing);
    this.typing = setTimeout(() => this.narrow((filter) => filter), TYPING_RESTS_MS);
  };

  private tick(attemptId: string) {
    const { ticked } = this.choice;
    if (ticked.includes(attemptId)) this.turn({ ticked: ticked.filter((id) => id !== attemptId) });
    else if (ticked.length < MOST_TOGETHER) this.turn({ ticked: [...ticked, attemptId] });
  }

  private current(): Comparable | undefined {
    const { scenarioId, rubricId, rubricRevision } = this.choice;
    const found = this.choices?.find(
      (each) => each.scenarioId === scenarioId && each.rubricId === rubricId && each.rubricRevision === rubricRevision,
    );
    return found ?? this.choices?.[0];
  }

  /** Of what is compared, as an address and the server know it. */
  private rubric(current = this.current()) {
    const { scenarioId = '', rubricId = '', rubricRevision = 1 } = current ?? {};
    return { scenarioId, rubricId, rubricRevision };
  }

  private choose(index: number) {
    const chosen = this.choices?.[index];
    if (chosen === undefined) return;
    goTo(comparePath({ ...this.choice, ...this.rubric(chosen), page: 1, before: null, ticked: [], attemptIds: [] }));
  }

  private exportPath(current: Comparable): string {
    const { rubricRevision, ...rest } = this.rubric(current);
    const { student, filter } = this.choice;
    const query = new URLSearchParams({
      ...rest,
      rubricRevision: String(rubricRevision),
      ...filterQuery(filter),
      ...(student === null ? {} : { student }),
    });
    return `/api/export/scores.csv?${query}`;
  }

  /** What was shown before stays until the new has come, where it is of the same kind. */
  private async load(before?: CompareRoute) {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    const { signal } = loading;
    const { student, filter, order, downwards, page } = this.choice;
    this.failure = null;
    if (before?.student !== student) this.attempts = this.progress = null;
    if (before !== undefined && rubricKey(before) !== rubricKey(this.choice))
      this.comparison = this.attempts = this.progress = null;
    try {
      const choices = await getComparable(signal);
      if (signal.aborted) return;
      this.choices = choices;
      if (this.current() === undefined || this.choice.attemptIds.length >= 2) return;
      const [wanted, narrowed] = [this.rubric(), filterQuery(filter)];
      if (student === null) {
        const comparison = await getComparison(
          wanted,
          narrowed,
          { order, downwards, page, limit: STUDENTS_A_PAGE },
          signal,
        );
        if (!signal.aborted) this.comparison = comparison;
        return;
      }
      const list = { limit: ATTEMPTS_A_PAGE, before: this.choice.before };
      // Another page of the list is of the same attempts over time.
      const of = withoutPage(this.choice);
      const known = this.progressOf === of ? this.progress : null;
      const [attempts, progress] = await Promise.all([
        getStudentAttempts(wanted, narrowed, student, list, signal),
        known ?? getProgress(wanted, narrowed, student, signal),
      ]);
      if (!signal.aborted) Object.assign(this, { attempts, progress, progressOf: of });
    } catch (error) {
      if (!signal.aborted) this.failure = error;
    }
  }
}

const withoutPage = (route: CompareRoute) => comparePath({ ...route, ticked: [], before: null });
const rubricKey = ({ scenarioId, rubricId, rubricRevision }: CompareRoute) =>
  JSON.stringify([scenarioId, rubricId, rubricRevision]);
const withoutTicks = (route: CompareRoute) => comparePath({ ...route, ticked: [] });

function comparableWords({ scenarioName, rubricId, rubricRevision, attempts }: Comparable): string {
  return `${scenarioName}, rubric ${rubricId} revision ${rubricRevision} (${plainNumber(attempts)})`;
}

declare global {
  interface HTMLElementTagNameMap {
    'compare-page': ComparePage;
  }
}
