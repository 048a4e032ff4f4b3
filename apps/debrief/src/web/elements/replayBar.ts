// Element replay-bar: plays the moment that all pictures share, at a speed, or steps it.
import { nextSampleS } from '@stillprop/charts';
import { css, html, LitElement } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { played, REPLAY_SPEEDS, type ReplaySpan, within } from '../replay.js';

const LEAP_S = 1;

/** @fires cursor-time - CustomEvent<number>: the moment to show (recording seconds). */
@customElement('replay-bar')
export class ReplayBar extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: center; padding: 0; font-size: 0.875rem; }
      .button { min-height: 2rem; padding: 0.2rem 0.75rem; font-size: 0.9375rem; }
      .play { min-width: 5rem; }
      label { display: inline-flex; gap: 0.4rem; align-items: center; color: var(--quiet); }
      select { height: 2rem; padding: 0 0.4rem; border: 1px solid var(--edge); border-radius: 3px; background: var(--paper); color: var(--ink); font: 0.9375rem var(--sans); }
    `,
  ];
  @property({ attribute: false }) span: ReplaySpan = { fromS: 0, toS: 0 };
  /** Moments of the samples, ascending. */
  @property({ attribute: false }) timeS: readonly number[] = [];
  @property({ attribute: false }) cursorS: number | null = null;
  @state() private playing = false;
  @state() private speed = 1;
  private frame = 0;
  private shownMs = 0;

  override disconnectedCallback() {
    super.disconnectedCallback();
    this.pause();
  }

  override render() {
    const { playing } = this;
    return html`<button class="button main play" data-testid="replay" @click=${() => (playing ? this.pause() : this.play())}>${playing ? 'Pause' : 'Replay'}</button>
      <label>Speed <select data-testid="replay-speed" @change=${(event: Event) => {
        this.speed = Number((event.target as HTMLSelectElement).value);
      }}>${REPLAY_SPEEDS.map((speed) => html`<option value=${speed} ?selected=${speed === this.speed}>${speedWords(speed)}</option>`)}</select></label>
      ${this.stepButton('‹ 1 s', '1 s back', (atS) => atS - LEAP_S)}
      ${this.stepButton('‹ sample', '1 sample back', (atS) => nextSampleS(this.timeS, atS, -1))}
      ${this.stepButton('sample ›', '1 sample on', (atS) => nextSampleS(this.timeS, atS, 1))}
      ${this.stepButton('1 s ›', '1 s on', (atS) => atS + LEAP_S)}`;
  }

  private stepButton(words: string, name: string, step: (atS: number) => number) {
    return html`<button class="button" aria-label=${name} @click=${() => {
      this.pause();
      this.tell(within(step(this.cursorS ?? this.span.fromS), this.span));
    }}>${words}</button>`;
  }

  private play() {
    this.playing = true;
    this.shownMs = performance.now();
    this.frame = requestAnimationFrame(this.next);
  }

  private pause() {
    this.playing = false;
    cancelAnimationFrame(this.frame);
  }

  private next = (nowMs: number) => {
    if (!this.playing) return;
    // A moment chosen elsewhere meanwhile, on a chart or in a finding, is played on from.
    const { atS, ended } = played(this.cursorS, (nowMs - this.shownMs) / 1000, this.speed, this.span);
    this.shownMs = nowMs;
    this.tell(atS);
    if (ended) this.pause();
    else this.frame = requestAnimationFrame(this.next);
  };

  private tell(atS: number) {
    this.dispatchEvent(new CustomEvent('cursor-time', { detail: atS, bubbles: true, composed: true }));
  }
}

function speedWords(speed: number): string {
  return `${speed === 0.25 ? '¼' : speed === 0.5 ? '½' : speed} ×`;
}

declare global {
  interface HTMLElementTagNameMap {
    'replay-bar': ReplayBar;
  }
}
