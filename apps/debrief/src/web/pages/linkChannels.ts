// Element link-channels: the channels found so far, each with its unit, its sign and what the cockpit shows.
import type { ChannelSource, Heard, SlotUnit } from '@stillprop/contracts';
import { type ChannelName, fittingUnits, unitsFor } from '@stillprop/links';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { CHANNEL_NAMES, CHANNEL_WORDS, changed, type LinkDraft, rawNow, valueNow, without } from './linkDraft.js';
import { linkPartStyles, linkStyles } from './linkStyles.js';

interface Compared {
  readonly raw: number;
  readonly shown: number;
}

/** @fires draft - CustomEvent<LinkDraft>: unit, sign or channel was changed. */
@customElement('link-channels')
export class LinkChannels extends LitElement {
  static override styles = [pageStyles, linkStyles, linkPartStyles];
  @property({ attribute: false }) heard: Heard | null = null;
  @property({ attribute: false }) draft!: LinkDraft;
  /** What the cockpit showed, and what was sent at that moment. */
  @state() private compared: ReadonlyMap<ChannelName, Compared> = new Map();

  override render() {
    const rows = CHANNEL_NAMES.flatMap((channel) => {
      const source = this.draft.channels[channel];
      return source === undefined ? [] : [this.row(channel, source)];
    });
    if (rows.length === 0) return html`<p class="quiet" data-testid="no-channels">No slot gives a channel yet.</p>`;
    return html`<table role="table" class="channels" aria-label="Channels">
      <thead role="rowgroup"><tr role="row"><th role="columnheader" scope="col">Channel</th><th role="columnheader" scope="col" class="number">Now</th><th role="columnheader" scope="col">Sent in</th><th role="columnheader" scope="col">Sign</th><th role="columnheader" scope="col">The cockpit shows</th><th role="columnheader" scope="col"><span class="unseen">Remove</span></th></tr></thead>
      <tbody role="rowgroup">${rows}</tbody></table>`;
  }

  private row(channel: ChannelName, source: ChannelSource) {
    const name = CHANNEL_WORDS[channel].split(',')[0];
    const value = valueNow(channel, source, this.heard?.slots ?? []);
    return html`<tr role="row" data-testid="channel-${channel}">
      <th role="rowheader" scope="row">${CHANNEL_WORDS[channel]}</th>
      <td role="cell" class="number" data-testid="now-${channel}">${value === null ? '–' : plain(value)}</td>
      <td role="cell"><select aria-label="${name} is sent in" data-testid="unit-${channel}"
        @change=${(event: Event) => this.change(channel, { unit: (event.target as HTMLSelectElement).value as SlotUnit })}>
        ${unitsFor(channel).map((unit) => html`<option value=${unit} ?selected=${unit === source.unit}>${unit}</option>`)}</select></td>
      <td role="cell"><label class="check small"><input type="checkbox" data-testid="flip-${channel}" .checked=${source.scale < 0}
        @change=${() => this.change(channel, { scale: -source.scale })} /> turned round</label></td>
      <td role="cell" class="cockpit"><input type="number" step="any" aria-label="${name}: the cockpit shows" placeholder="cockpit" data-testid="cockpit-${channel}"
        @input=${(event: Event) => this.compare(channel, source, (event.target as HTMLInputElement).value)} />
        ${this.fits(channel, source)}</td>
      <td role="cell"><button class="button little" aria-label="Remove ${name}" @click=${() => this.tell(without(this.draft, channel))}>Remove</button></td>
    </tr>`;
  }

  private fits(channel: ChannelName, source: ChannelSource) {
    const compared = this.compared.get(channel);
    if (compared === undefined) return nothing;
    const fitting = fittingUnits(channel, compared.raw, compared.shown);
    const [best] = fitting;
    if (best === undefined) {
      return html`<p class="small" role="status">No unit makes ${plain(compared.raw)} into ${plain(compared.shown)}. Is it this slot?</p>`;
    }
    const isSet = fitting.some(({ unit, scale }) => unit === source.unit && Math.sign(source.scale) === scale);
    if (isSet) return html`<p class="small" role="status">It agrees.</p>`;
    return html`<div class="offers" role="status">${fitting.slice(0, 3).map(
      ({ unit, scale, value }) => html`<button class="button little" data-testid="fit-${channel}-${unit}"
        @click=${() => this.fit(channel, { unit, scale })}>${unit}${scale < 0 ? ', turned round' : ''} fits: ${plain(value)}</button>`,
    )}</div>`;
  }

  private compare(channel: ChannelName, source: ChannelSource, text: string) {
    const raw = rawNow(source, this.heard?.slots ?? []);
    const next = new Map(this.compared);
    if (text.trim() === '' || raw === null || !Number.isFinite(Number(text))) next.delete(channel);
    else next.set(channel, { raw, shown: Number(text) });
    this.compared = next;
  }

  /** The button goes with its press: the number beside it takes the focus. */
  private fit(channel: ChannelName, part: Partial<ChannelSource>) {
    this.change(channel, part);
    this.renderRoot.querySelector<HTMLInputElement>(`[data-testid="cockpit-${channel}"]`)?.focus();
  }

  private change(channel: ChannelName, part: Partial<ChannelSource>) {
    this.tell(changed(this.draft, channel, part));
  }

  private tell(draft: LinkDraft) {
    this.dispatchEvent(new CustomEvent('draft', { detail: draft }));
  }
}

const plain = (value: number) => String(Number(value.toPrecision(Math.abs(value) < 1 ? 3 : 6))).replace('-', '−');

declare global {
  interface HTMLElementTagNameMap {
    'link-channels': LinkChannels;
  }
}
