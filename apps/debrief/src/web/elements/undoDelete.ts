// Element undo-delete: above the list, that an attempt was deleted a moment ago, and the way back.
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { restoreAttempt } from '../deletedApi.js';
import { takeDeleted } from '../justDeleted.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath } from '../routes.js';

/** @fires restored - CustomEvent<string>: the id of the attempt that is back. */
@customElement('undo-delete')
export class UndoDelete extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { padding: 0; }
      .notice { margin-top: 1rem; }
      .line { display: flex; flex-wrap: wrap; gap: 0.25rem 0.9rem; align-items: center; }
      .notice .button { min-height: 2rem; margin: 0; padding: 0.2rem 0.75rem; font-size: 0.9375rem; }
    `,
  ];
  /** Attempts restored on the page, by id. */
  @property({ attribute: false }) restored: readonly string[] = [];
  @state() private attemptId = takeDeleted();
  @state() private back = false;
  @state() private busy = false;
  @state() private problem: string | null = null;

  override render() {
    const { attemptId, back, problem } = this;
    if (attemptId === null || (!back && this.restored.includes(attemptId))) return nothing;
    return html`<div class="notice" role="status" data-testid="deleted-notice">
      ${
        back
          ? html`<p class="line">Attempt restored. <a href=${attemptPath(attemptId)}>Open it</a></p>`
          : html`<p class="line">Attempt deleted. <button class="button" data-testid="undo-delete" ?disabled=${this.busy} @click=${() => this.undo(attemptId)}>Undo</button></p>`
      }
      ${problem === null ? nothing : html`<p role="alert">${problem}</p>`}
    </div>`;
  }

  private async undo(attemptId: string) {
    this.busy = true;
    this.problem = null;
    try {
      await restoreAttempt(attemptId);
      this.back = true;
      this.dispatchEvent(new CustomEvent('restored', { detail: attemptId }));
      await this.updateComplete;
      this.renderRoot.querySelector('a')?.focus(); // the button that had the keyboard is gone
    } catch (error) {
      this.problem = (error as Error).message;
    } finally {
      this.busy = false;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'undo-delete': UndoDelete;
  }
}
