// Element attempt-notes: the notes to an attempt. What shows and writes them is fetched when there are any, or one is begun.
import type { Note } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { getNotes } from '../api.js';
import { pageStyles } from '../pageStyles.js';
import { momentWords } from '../words.js';

@customElement('attempt-notes')
export class AttemptNotes extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { padding: 0; margin-bottom: 1.4rem; }
      h2 { font-size: 0.9375rem; }
      .button { min-height: 2rem; margin-top: 0.4rem; padding: 0.2rem 0.75rem; font-size: 0.9375rem; }
      @media print { h2, .button, .notice { display: none; } :host { margin: 0; } }
    `,
  ];
  @property({ attribute: false }) attemptId = '';
  /** Where the charts count from (recording seconds). */
  @property({ attribute: false }) originS = 0;
  /** The moment on show since the origin, in tenths: it alone is followed while a replay moves the cursor at every frame. */
  @state() private sinceS: number | null = null;
  @state() private notes: readonly Note[] | null = null;
  /** Whether the list is here; `begun`: with a new note to be written. */
  @state() private list: 'away' | 'here' | 'begun' = 'away';
  @state() private problem: string | null = null;
  private loading: AbortController | undefined;

  /** The moment that all pictures show (recording seconds), to which a new note is offered. Set after `originS`. */
  set cursorS(atS: number | null) {
    this.sinceS = atS === null ? null : Math.round((atS - this.originS) * 10) / 10;
  }

  override disconnectedCallback() {
    super.disconnectedCallback();
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.has('attemptId')) this.load();
  }

  override render() {
    const { notes, list, problem, sinceS } = this;
    if (notes !== null && list !== 'away')
      return html`<notes-list .attemptId=${this.attemptId} .notes=${notes} .originS=${this.originS} .sinceS=${sinceS} .begun=${list === 'begun'}></notes-list>`;
    return html`<h2>Notes</h2>
      ${
        problem === null
          ? nothing
          : html`<div class="notice alarm" role="alert" data-testid="notes-problem"><p>${problem}</p>
          <button class="button" @click=${() => this.load()}>Try again</button></div>`
      }
      ${notes === null ? nothing : html`<button class="button" data-testid="add-note" @click=${() => this.show('begun')}>Add a note${sinceS === null ? '' : ` at ${momentWords(sinceS)}`}</button>`}`;
  }

  private async show(list: 'here' | 'begun') {
    const { attemptId } = this;
    try {
      await import('./notesList.js');
      if (this.attemptId === attemptId) this.list = list;
    } catch {
      if (this.attemptId === attemptId) this.problem = 'The debrief server does not answer.';
    }
  }

  private async load() {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    this.notes = null;
    this.list = 'away';
    this.problem = null;
    try {
      const { notes } = await getNotes(this.attemptId, loading.signal);
      if (notes.length > 0) await this.show('here');
      if (!loading.signal.aborted) this.notes = notes;
    } catch (error) {
      if (!loading.signal.aborted) this.problem = (error as Error).message;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'attempt-notes': AttemptNotes;
  }
}
