// Element delete-attempt: the button that asks whether to delete an attempt.
import type { AttemptSummary } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { ApiFailure } from '../api.js';
import { pageStyles } from '../pageStyles.js';

@customElement('delete-attempt')
export class DeleteAttempt extends LitElement {
  static override styles = [pageStyles, css`:host { display: inline-block; padding: 0; }`];
  @property({ attribute: false }) attemptId = '';
  /** What is deleted; null: it could not be read. */
  @property({ attribute: false }) summary: AttemptSummary | null = null;
  /** Why the attempt could not be shown: only one that is there can be deleted. null: it is shown. */
  @property({ attribute: false }) failure: unknown = null;
  @state() private asking = false;

  override render() {
    const { failure } = this;
    if (failure !== null && !(failure instanceof ApiFailure && failure.code === 'NOT_SCORED')) return nothing;
    return html`<button class="button" data-testid="delete" aria-haspopup="dialog" @click=${this.ask}>Delete</button>
      ${
        this.asking
          ? html`<delete-dialog .attemptId=${this.attemptId} .summary=${this.summary} @close=${() => {
              this.asking = false;
            }}></delete-dialog>`
          : nothing
      }`;
  }

  private async ask() {
    await import('./deleteDialog.js');
    this.asking = true;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'delete-attempt': DeleteAttempt;
  }
}
