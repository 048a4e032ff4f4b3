// Element link-place: where a simulator is heard, and the button that begins to listen.
import type { LinkTransport } from '@stillprop/contracts';
import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import {
  FIRST_PLACE,
  fieldsOf,
  isConnectedTo,
  PLACE_WORDS,
  type PlaceFields,
  type PlaceKind,
  transportOfFields,
} from './linkPlaceFields.js';
import { linkPartStyles, linkStyles } from './linkStyles.js';

/**
 * @fires listen-there - CustomEvent<LinkTransport>: begin to listen.
 * @fires not-there - CustomEvent<string>: why that cannot be, as a sentence.
 * @fires stop-listening
 */
@customElement('link-place')
export class LinkPlace extends LitElement {
  static override styles = [pageStyles, linkStyles, linkPartStyles];
  @property({ attribute: false }) listens = false;
  @property({ attribute: false }) busy = false;
  /** Transport of a link that is changed; null: a new one is taught. */
  @property({ attribute: false }) base: LinkTransport | null = null;
  @state() private fields: PlaceFields = FIRST_PLACE;

  protected override willUpdate(changes: PropertyValues<this>) {
    if (changes.has('base') && this.base !== null) this.fields = fieldsOf(this.base);
  }

  override render() {
    const { fields, listens, busy } = this;
    return html`<form class="fields" @submit=${this.listen}>
      <div class="field wide"><label for="kind">How the data come</label>
        <select id="kind" data-testid="listen-kind" @change=${(event: Event) => this.set({ kind: typedIn(event) as PlaceKind })}>
          ${Object.entries(PLACE_WORDS).map(([kind, words]) => html`<option value=${kind} ?selected=${kind === fields.kind}>${words}</option>`)}</select></div>
      ${isConnectedTo(fields) ? this.addressField() : this.portFields()}
      <button class="button ${listens ? '' : 'main'}" type="submit" ?disabled=${busy} data-testid="listen">${listens ? 'Listen anew' : 'Listen'}</button>
      ${listens ? html`<button class="button" type="button" ?disabled=${busy} data-testid="stop-listening" @click=${() => this.dispatchEvent(new CustomEvent('stop-listening'))}>Stop listening</button>` : nothing}
    </form>`;
  }

  /** The button that stops goes with its press. */
  override focus() {
    this.renderRoot.querySelector<HTMLElement>('[data-testid="listen"]')?.focus();
  }

  private portFields() {
    const { port, host } = this.fields;
    return html`<div class="field short"><label for="port">Port</label>
        <input id="port" type="text" inputmode="numeric" data-testid="listen-port" .value=${port} @input=${(event: Event) => this.set({ port: typedIn(event) })} /></div>
      <div class="field"><label for="host">Where the simulator is</label>
        <select id="host" @change=${(event: Event) => this.set({ host: typedIn(event) as PlaceFields['host'] })}>
          <option value="127.0.0.1" ?selected=${host === '127.0.0.1'}>on the computer of the bridge</option>
          <option value="0.0.0.0" ?selected=${host === '0.0.0.0'}>on another computer</option></select></div>`;
  }

  private addressField() {
    const { kind, address } = this.fields;
    const example = kind === 'tcpClient' ? '127.0.0.1:5000' : 'ws://127.0.0.1:8080/data';
    return html`<div class="field wide"><label for="address">Address of the simulator, such as ${example}</label>
      <input id="address" type="text" autocomplete="off" spellcheck="false" data-testid="listen-address" .value=${address}
        @input=${(event: Event) => this.set({ address: typedIn(event) })} /></div>`;
  }

  private set(part: Partial<PlaceFields>) {
    this.fields = { ...this.fields, ...part };
  }

  private listen(event: Event) {
    event.preventDefault();
    const made = transportOfFields(this.fields, this.base);
    if (made.ok) this.dispatchEvent(new CustomEvent('listen-there', { detail: made.value }));
    else this.dispatchEvent(new CustomEvent('not-there', { detail: `${made.problem.message}.` }));
  }
}

const typedIn = (event: Event) => (event.target as HTMLInputElement | HTMLSelectElement).value;

declare global {
  interface HTMLElementTagNameMap {
    'link-place': LinkPlace;
  }
}
