// Element link-moves: asks the pilot to do one thing, and offers the slot that moved.
import type { Heard, SeenSlot } from '@stillprop/contracts';
import { MANOEUVRES, type Manoeuvre, type MovedSlot, movedSlots } from '@stillprop/links';
import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { assigned, CHANNEL_WORDS, type LinkDraft } from './linkDraft.js';
import { linkPartStyles, linkStyles } from './linkStyles.js';

/** Pictures of the slots kept from before: about three seconds. */
const BEFORE = 15;
/** With fewer there is nothing to tell a movement from. */
const ENOUGH_BEFORE = 8;
const MOST_DURING = 300;

type Picture = ReadonlyMap<SeenSlot['slot'], number>;

/** @fires draft - CustomEvent<LinkDraft>: an offer was taken. */
@customElement('link-moves')
export class LinkMoves extends LitElement {
  static override styles = [pageStyles, linkStyles, linkPartStyles];
  @property({ attribute: false }) heard: Heard | null = null;
  @property({ attribute: false }) draft!: LinkDraft;
  @state() private asked: Manoeuvre | null = null;
  @state() private offers: readonly MovedSlot[] = [];
  private steady: Picture[] = [];
  private moving: Picture[] = [];

  override willUpdate(changes: PropertyValues<this>) {
    if (!changes.has('heard') || this.heard === null) return;
    const picture: Picture = new Map(
      this.heard.slots.flatMap(({ slot, newest }) => (typeof newest === 'number' ? [[slot, newest] as const] : [])),
    );
    if (this.asked === null) this.steady = [...this.steady, picture].slice(-BEFORE);
    else {
      this.moving = [...this.moving, picture].slice(-MOST_DURING);
      this.offers = movedSlots(this.traces(), this.asked);
    }
  }

  private traces() {
    const slots = this.heard?.slots.map(({ slot }) => slot) ?? [];
    const of = (pictures: readonly Picture[], slot: SeenSlot['slot']) =>
      pictures.flatMap((picture) => picture.get(slot) ?? []);
    return slots.map((slot) => ({ slot, before: of(this.steady, slot), during: of(this.moving, slot) }));
  }

  override render() {
    const { asked, offers } = this;
    return html`<div class="offers" role="group" aria-label="What to do in the cockpit">${MANOEUVRES.map(
      (
        one,
      ) => html`<button class="button" aria-pressed=${one === asked} aria-disabled=${!this.isReady} data-testid="ask-${one.id}" @click=${() => this.ask(one)}>
        ${CHANNEL_WORDS[one.channel].split(',')[0]}${this.draft.channels[one.channel] === undefined ? nothing : html` <span aria-label="found">✓</span>`}</button>`,
    )}</div>
      <div aria-live="polite" data-testid="asked">${
        asked === null
          ? html`<p class="small quiet">${
              this.isReady
                ? 'Ready: choose one.'
                : this.heard === null
                  ? 'Listen first.'
                  : 'Hold everything steady for some seconds.'
            }</p>`
          : html`<p class="asked">${asked.ask}</p>`
      }</div>
      ${
        asked === null
          ? nothing
          : html`<p class="small" role="status" data-testid="moved-words">${
              offers.length === 0 ? 'Nothing has moved yet.' : `${words(offers[0] as MovedSlot)} moved most.`
            }</p>
            <div class="offers">${offers.map(
              (
                offer,
                at,
              ) => html`<button class="button ${at === 0 ? 'main' : ''}" data-testid="offer-${offer.slot}" @click=${() => this.take(asked, offer)}>
                ${words(offer)}: ${number(offer.from)} to ${number(offer.to)}. Take it, in ${offer.unit}${offer.scale < 0 ? ', sign turned round' : ''}</button>`,
            )}
            <button class="button" @click=${() => this.end()}>None of these</button></div>`
      }`;
  }

  private get isReady(): boolean {
    return this.asked !== null || this.steady.length >= ENOUGH_BEFORE;
  }

  private ask(one: Manoeuvre) {
    if (!this.isReady) return; // not disabled, so that the focus can stay on it
    this.asked = one;
    this.moving = [];
    this.offers = [];
  }

  private take({ channel }: Manoeuvre, { slot, unit, scale }: MovedSlot) {
    this.dispatchEvent(new CustomEvent('draft', { detail: assigned(this.draft, slot, channel, { unit, scale }) }));
    this.end();
  }

  private end() {
    // The buttons go: the one that began it takes the focus.
    this.renderRoot.querySelector<HTMLElement>('[aria-pressed="true"]')?.focus();
    this.asked = null;
    this.steady = [];
    this.offers = [];
  }
}

const words = ({ slot }: MovedSlot) => (typeof slot === 'number' ? `Column ${slot + 1}` : slot);
const number = (value: number) => String(Number(value.toPrecision(4))).replace('-', '−');

declare global {
  interface HTMLElementTagNameMap {
    'link-moves': LinkMoves;
  }
}
