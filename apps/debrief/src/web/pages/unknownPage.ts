// Page for an address that names none of ours.
import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { ATTEMPTS_PATH, FLY_PATH } from '../routes.js';

@customElement('unknown-page')
export class UnknownPage extends LitElement {
  static override styles = [pageStyles];
  @property({ attribute: false }) path = '';

  override render() {
    return html`<div class="empty">
      <h1>There is no page at ${this.path}.</h1>
      <p class="quiet">The pages are <a href=${FLY_PATH}>Fly</a> and <a href=${ATTEMPTS_PATH}>Debrief</a>.</p>
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'unknown-page': UnknownPage;
  }
}
