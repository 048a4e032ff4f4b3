// Element replay-bar: plays the moment that all pictures share, at a speed, or steps it.
import { css, html, LitElement } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { played, REPLAY_SPEEDS, type ReplaySpan, stepped } from '../replay.js';

const STEP_S = 0.2;
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
      ${this.stepButton(-LEAP_S, '1 s back')} ${this.stepButton(-STEP_S, '0.2 s back')}
      ${this.stepButton(STEP_S, '0.2 s on')} ${this.stepButton(LEAP_S, '1 s on')}`;
  }

  private stepButton(byS: number, words: string) {
    return html`<button class="button" @click=${() => {
      this.pause();
      this.tell(stepped(this.cursorS, byS, this.span));
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
