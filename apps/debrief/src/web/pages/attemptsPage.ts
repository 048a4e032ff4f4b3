// Page: the list of attempts, newest first, page by page.
import { figure } from '@stillprop/charts';
import type { AttemptList, AttemptSummary } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { getAttempts } from '../api.js';
import '../elements/importLog.js';
import '../elements/deletedAttempts.js';
import { failureNotice, loadingNotice } from '../elements/notices.js';
import '../elements/undoDelete.js';
import { liveFeed } from '../liveFeed.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath, attemptsPath, FLY_PATH } from '../routes.js';
import { dateWords, OUTCOME_WORDS, pilotName } from '../words.js';

const PAGE_LENGTH = 20;

@customElement('attempts-page')
export class AttemptsPage extends LitElement {
  static override styles = [
    pageStyles,
    css`
      .head { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 1rem; padding: 1.25rem 0 0.75rem; }
      table { width: 100%; border-collapse: collapse; }
      th { font: 400 0.8125rem/1.4 var(--sans); color: var(--quiet); text-align: left; padding: 0.35rem 1.25rem 0.35rem 0; }
      td { padding: 0; border-top: 1px solid var(--rule); vertical-align: baseline; }
      td > * { display: block; padding: 0.5rem 1.25rem 0.5rem 0; font-size: 0.9375rem; }
      td a { color: inherit; text-decoration: none; }
      td:first-child a { color: var(--accent); text-decoration: underline; }
      tbody tr:hover { background: var(--sheet); }
      .number { text-align: right; white-space: nowrap; }
      td.date { white-space: nowrap; }
      th:last-child, td.score span { padding-right: 0.25rem; }
      td.score span { font: 400 1.375rem/1.2 var(--serif); }
      td.score .none { font: 0.875rem var(--sans); color: var(--quiet); }
      .narrow-only { display: none; }
      .broken { color: var(--alarm); }
      nav { display: flex; gap: 0.75rem; padding: 1.25rem 0; }
      @media (max-width: 760px) {
        table, tbody { display: block; }
        thead { display: none; }
        tr { display: grid; grid-template-columns: 1fr auto; gap: 0 1rem; padding: 0.6rem 0; border-top: 1px solid var(--rule); }
        td { border: 0; font-size: 0.9375rem; }
        td > * { padding: 0.05rem 0; }
        td.date { grid-column: 1; }
        td.scenario, td.outcome { grid-column: 1; }
        td.pilot { grid-column: 1; color: var(--quiet); }
        td.failure { grid-column: 2; grid-row: 2; color: var(--quiet); }
        td.score { grid-column: 2; grid-row: 1; }
        .narrow-only { display: inline; }
      }
    `,
  ];
  /** Cursor of this page; null: the newest. */
  @property({ attribute: false }) cursor: string | null = null;
  @state() private list: AttemptList | null = null;
  @state() private failure: unknown = null;
  /** Attempts restored on this page, by id. */
  @state() private restored: readonly string[] = [];
  private loading: AbortController | undefined;
  private onScored = () => {
    if (this.cursor === null) this.load();
  };

  private onBack = () => {
    if (this.failure || this.cursor === null) this.load();
  };

  override connectedCallback() {
    super.connectedCallback();
    liveFeed.addEventListener('back', this.onBack);
    liveFeed.addEventListener('attempt-scored', this.onScored);
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    liveFeed.removeEventListener('back', this.onBack);
    liveFeed.removeEventListener('attempt-scored', this.onScored);
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.has('cursor') || !this.hasUpdated) this.load();
  }

  override render() {
    return html`<undo-delete .restored=${this.restored} @restored=${this.onRestored}></undo-delete>
      ${this.content()}
      <deleted-attempts .restored=${this.restored} @restored=${this.onRestored}></deleted-attempts>`;
  }

  private onRestored(event: CustomEvent<string>) {
    this.restored = [...this.restored, event.detail];
    this.load();
  }

  private content() {
    if (this.failure) return failureNotice(this.failure, () => this.load());
    if (!this.list) return loadingNotice('Reading the attempts …');
    const { attempts, total, next } = this.list;
    if (total === 0) return this.none();
    return html`<div class="head">
        <h1>Attempts</h1>
        <p class="quiet" data-testid="attempts-total">${figure(total, total === 1 ? 'attempt' : 'attempts', 0)}${
          this.cursor === null ? ', newest first' : ', an older page'
        }</p>
      </div>
      <table data-testid="attempts">
        <thead><tr><th scope="col">Flown</th><th scope="col">Scenario</th><th scope="col">Pilot</th>
          <th scope="col" class="number">Power lost at</th><th scope="col">Outcome</th><th scope="col" class="number">Score</th></tr></thead>
        <tbody>${attempts.map(row)}</tbody>
      </table>
      <nav aria-label="Pages of the list">
        ${this.cursor === null ? nothing : html`<a class="button" href=${attemptsPath(null)}>Newest</a>`}
        ${next === null ? nothing : html`<a class="button" href=${attemptsPath(next)} data-testid="older">Older</a>`}
      </nav>
      <import-log></import-log>`;
  }

  private none() {
    return html`<div class="empty" data-testid="no-attempts">
      <h1>No attempt has been flown yet.</h1>
      <p class="quiet">Each attempt is listed here with its score as soon as it is over. Without a simulator, the stand-in flies one for you
        in about a minute.</p>
      <a class="button main" href=${FLY_PATH}>Fly one</a>
    </div>
    <import-log></import-log>`;
  }

  private async load() {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    try {
      const list = await getAttempts(PAGE_LENGTH, this.cursor, loading.signal);
      this.failure = null;
      this.list = list;
    } catch (error) {
      if (!loading.signal.aborted) this.failure = error;
    }
  }
}

function row(attempt: AttemptSummary) {
  const path = attemptPath(attempt.attemptId);
  // Only the date is a stop for the keyboard; the other cells are the same link for the pointer.
  const also = (content: unknown) => html`<a href=${path} tabindex="-1">${content}</a>`;
  return html`<tr data-testid="attempt-row">
    <td class="date"><a href=${path}>${dateWords(attempt.startedAt)}</a></td>
    <td class="scenario">${also(attempt.scenarioName)}</td>
    <td class="pilot">${also(pilotName(attempt))}</td>
    <td class="failure number">${also(
      attempt.failureHeightFt === null
        ? attempt.outcome === null
          ? '—'
          : 'no failure'
        : html`<span class="narrow-only">lost at </span>${figure(attempt.failureHeightFt, 'ft')}`,
    )}</td>
    <td class="outcome">${also(
      html`${attempt.outcome === null ? (attempt.problem === null ? 'Being scored' : 'Could not be scored') : OUTCOME_WORDS[attempt.outcome]}${attempt.complete ? nothing : html` <span class="broken">(recording broke off)</span>`}`,
    )}</td>
    <td class="score number">${
      attempt.overall === null
        ? html`<span class="none">${attempt.outcome === null ? '—' : 'not scored'}</span>`
        : html`<span>${Math.round(attempt.overall)}</span>`
    }</td>
  </tr>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'attempts-page': AttemptsPage;
  }
}
