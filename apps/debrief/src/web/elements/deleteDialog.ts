// Element delete-dialog: the question before an attempt is deleted, which says what that does. Fetched when it is asked.
import type { AttemptSummary } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { deleteAttempt } from '../deletedApi.js';
import { tellDeleted } from '../justDeleted.js';
import { pageStyles } from '../pageStyles.js';
import { ATTEMPTS_PATH, goTo } from '../routes.js';
import { dateWords, pilotName } from '../words.js';

/** @fires close - The question is answered, or given up with Escape; the keyboard is back where it was. */
@customElement('delete-dialog')
export class DeleteDialog extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { display: contents; }
      dialog {
        max-width: min(34rem, calc(100vw - 2rem)); padding: 1.25rem 1.5rem; border: 1px solid var(--edge); border-radius: 3px;
        background: var(--paper); color: var(--ink); font-size: 0.9375rem; line-height: 1.45;
      }
      dialog::backdrop { background: rgb(0 0 0 / 0.45); }
      h2 { font: 500 1.375rem/1.25 var(--serif); }
      p { margin-top: 0.7rem; }
      .choices { display: flex; flex-wrap: wrap; gap: 0.6rem; margin-top: 1.1rem; }
    `,
  ];
  @property({ attribute: false }) attemptId = '';
  /** What is deleted, in words; null: it could not be read. */
  @property({ attribute: false }) summary: AttemptSummary | null = null;
  @state() private busy = false;
  @state() private problem: string | null = null;
  @query('dialog') private dialog!: HTMLDialogElement;

  override render() {
    const { summary, problem } = this;
    return html`<dialog aria-labelledby="question" aria-describedby="what" data-testid="delete-dialog" @close=${() => this.dispatchEvent(new CustomEvent('close'))}>
        <h2 id="question">Delete this attempt?</h2>
        <div id="what">
          ${summary === null ? nothing : html`<p><b>${dateWords(summary.startedAt)}</b>, ${summary.scenarioName}, ${pilotName(summary)}</p>`}
          <p>Its recording, its score and its notes leave every list, comparison and export. They are not erased: they move to the folder
            <code>deleted</code> of the data folder, and can be restored under Debrief, Deleted.</p>
        </div>
        ${problem === null ? nothing : html`<p class="notice alarm" role="alert" data-testid="delete-problem">${problem}</p>`}
        <div class="choices">
          <button class="button" autofocus data-testid="delete-cancel" @click=${() => this.dialog.close()}>Cancel</button>
          <button class="button alarm" data-testid="delete-confirm" ?disabled=${this.busy} @click=${this.confirmed}>Delete the attempt</button>
        </div>
      </dialog>`;
  }

  protected override firstUpdated() {
    this.dialog.showModal(); // the browser keeps the keyboard in it, closes it with Escape, and gives the keyboard back
  }

  private async confirmed() {
    if (this.busy) return;
    this.busy = true;
    try {
      const { attemptId } = await deleteAttempt(this.attemptId);
      this.dialog.close();
      tellDeleted(attemptId);
      goTo(ATTEMPTS_PATH);
    } catch (error) {
      this.problem = (error as Error).message;
    } finally {
      this.busy = false;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'delete-dialog': DeleteDialog;
  }
}
