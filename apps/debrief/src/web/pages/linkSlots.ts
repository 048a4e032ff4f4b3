// Element link-slots: every slot that is heard with its value now, and which channel it gives.
import type { Heard, SeenSlot } from '@stillprop/contracts';
import type { ChannelName } from '@stillprop/links';
import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { assigned, CHANNEL_NAMES, CHANNEL_WORDS, type LinkDraft, withSuggestions } from './linkDraft.js';
import { linkPartStyles, linkStyles } from './linkStyles.js';

/** @fires draft - CustomEvent<LinkDraft>: a slot was given a channel, or lost it. */
@customElement('link-slots')
export class LinkSlots extends LitElement {
  static override styles = [pageStyles, linkStyles, linkPartStyles];
  @property({ attribute: false }) heard: Heard | null = null;
  @property({ attribute: false }) draft!: LinkDraft;

  override render() {
    const { heard, draft } = this;
    if (heard === null || heard.slots.length === 0) return nothing;
    const offered = heard.slots.filter(
      ({ suggestion }) => suggestion && draft.channels[suggestion.channel as ChannelName] === undefined,
    );
    return html`${
      offered.length > 0
        ? html`<div class="offers"><button class="button" data-testid="take-all" @click=${() => this.tell(withSuggestions(draft, heard.slots))}>
            Take all ${offered.length} suggestions</button></div>
            <p class="small quiet">They are guesses by name. Compare each with the cockpit below.</p>`
        : nothing
    }
      <table role="table" class="slots" aria-label="What arrives">
        <thead role="rowgroup"><tr role="row"><th role="columnheader" scope="col">Slot</th><th role="columnheader" scope="col" class="number">Now</th><th role="columnheader" scope="col" class="number">Lowest</th><th role="columnheader" scope="col" class="number">Highest</th><th role="columnheader" scope="col">Gives</th></tr></thead>
        <tbody role="rowgroup">${heard.slots.map((slot) => this.row(slot))}</tbody>
      </table>`;
  }

  private row(seen: SeenSlot) {
    const { slot, newest, lowest, highest, moves, suggestion } = seen;
    const given = CHANNEL_NAMES.find((channel) => this.draft.channels[channel]?.slot === slot);
    const name = typeof slot === 'number' ? `Column ${slot + 1}` : slot;
    return html`<tr role="row" data-testid="slot-${slot}">
      <th role="rowheader" scope="row">${name}</th>
      <td role="cell" class="number ${moves ? 'moves' : ''}">${shown(newest)}</td>
      <td role="cell" class="number range">${shown(lowest)}</td>
      <td role="cell" class="number range">${shown(highest)}</td>
      <td role="cell"><select aria-label="${name} gives" data-testid="assign-${slot}"
        @change=${(event: Event) => this.assign(seen, (event.target as HTMLSelectElement).value)}>
        <option value="" ?selected=${given === undefined}>nothing</option>
        ${CHANNEL_NAMES.map((channel) => html`<option value=${channel} ?selected=${channel === given}>${CHANNEL_WORDS[channel]}</option>`)}
      </select>${
        suggestion && given === undefined
          ? html`<p class="small suggestion"><button class="button little" @click=${() => this.tell(assigned(this.draft, slot, suggestion.channel as ChannelName, suggestion))}>
              ${CHANNEL_WORDS[suggestion.channel as ChannelName].split(',')[0]} in ${suggestion.unit}</button> ${suggestion.why}</p>`
          : nothing
      }</td>
    </tr>`;
  }

  private assign({ slot, suggestion }: SeenSlot, value: string) {
    const channel = value === '' ? null : (value as ChannelName);
    this.tell(assigned(this.draft, slot, channel, suggestion?.channel === channel && suggestion ? suggestion : {}));
  }

  private tell(draft: LinkDraft) {
    this.dispatchEvent(new CustomEvent('draft', { detail: draft }));
  }
}

function shown(value: SeenSlot['newest']): string {
  if (value === null) return '–';
  if (typeof value === 'number') return String(Number(value.toPrecision(8))).replace('-', '−');
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : value;
}

declare global {
  interface HTMLElementTagNameMap {
    'link-slots': LinkSlots;
  }
}
