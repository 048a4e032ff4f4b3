// Element deleted-attempts: below the list, what was deleted, each with the way back; nothing where nothing was.
import type { DeletedAttempt } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { getDeleted, restoreAttempt } from '../deletedApi.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath } from '../routes.js';
import { dateWords, OUTCOME_WORDS, pilotName } from '../words.js';

/** @fires restored - CustomEvent<string>: the id of the attempt that is back. */
@customElement('deleted-attempts')
export class DeletedAttempts extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { padding: 0; }
      details { margin-top: 0.5rem; padding-top: 0.75rem; border-top: 1px solid var(--rule); }
      summary { width: max-content; min-height: 24px; color: var(--quiet); cursor: pointer; }
      ul { list-style: none; margin: 0.5rem 0 0; padding: 0; max-width: 60rem; }
      li { display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; align-items: center; padding: 0.5rem 0; border-top: 1px solid var(--rule); font-size: 0.9375rem; }
      li p { flex: 1 1 16rem; }
      .button { min-height: 2rem; padding: 0.2rem 0.75rem; font-size: 0.9375rem; }
      .small { margin-top: 0.5rem; font-size: 0.875rem; max-width: 60rem; }
      .said { margin-top: 0.75rem; }
      @media print { :host { display: none; } }
    `,
  ];
  /** Attempts restored on the page, by id: when there is another, the list is asked for again. */
  @property({ attribute: false }) restored: readonly string[] = [];
  @state() private deleted: readonly DeletedAttempt[] = [];
  @state() private back: string | null = null;
  @state() private busy = false;
  @state() private problem: string | null = null;
  private loading: AbortController | undefined;

  override disconnectedCallback() {
    super.disconnectedCallback();
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.has('restored')) this.load();
  }

  override render() {
    const { deleted, back, problem } = this;
    return html`${
      deleted.length === 0
        ? nothing
        : html`<details data-testid="deleted">
            <summary data-testid="deleted-count">Deleted (${deleted.length})</summary>
            <p class="small quiet">Kept in the folder <code>deleted</code> of the data folder until somebody empties it by hand.</p>
            <ul>${deleted.map((attempt) => this.item(attempt))}</ul>
          </details>`
    }
    ${back === null ? nothing : html`<p class="notice said" role="status" data-testid="restored">Attempt restored. <a href=${attemptPath(back)}>Open it</a></p>`}
    ${problem === null ? nothing : html`<p class="notice alarm said" role="alert" data-testid="restore-problem">${problem}</p>`}`;
  }

  private item(attempt: DeletedAttempt) {
    const { attemptId, startedAt, scenarioName, outcome, overall, deletedAt } = attempt;
    const facts = [
      scenarioName,
      pilotName(attempt),
      ...(outcome === null ? [] : [OUTCOME_WORDS[outcome]]),
      ...(overall === null ? [] : [`score ${Math.round(overall)}`]),
    ];
    return html`<li data-testid="deleted-row">
      <p>${dateWords(startedAt)}, ${facts.join(', ')} <span class="quiet">(deleted ${dateWords(deletedAt)})</span></p>
      <button class="button" data-testid="restore" ?disabled=${this.busy} @click=${() => this.restore(attemptId)}>Restore<span class="unseen">
        the attempt of ${dateWords(startedAt)}</span></button>
    </li>`;
  }

  private async restore(attemptId: string) {
    this.busy = true;
    this.problem = null;
    this.back = null;
    try {
      await restoreAttempt(attemptId);
      this.back = attemptId;
      this.dispatchEvent(new CustomEvent('restored', { detail: attemptId }));
      await this.updateComplete;
      this.renderRoot.querySelector<HTMLElement>('.said a')?.focus(); // the button that had the keyboard goes with its row
    } catch (error) {
      this.problem = (error as Error).message;
    } finally {
      this.busy = false;
    }
  }

  private async load() {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    try {
      this.deleted = (await getDeleted(loading.signal)).deleted;
    } catch {
      // The list above says that the server does not answer.
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'deleted-attempts': DeletedAttempts;
  }
}
