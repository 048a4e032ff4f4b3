// Element fly-live: the state of the exercise in words, and height, speed and bank large enough for two metres.
import { plainNumber } from '@stillprop/charts';
import type { LiveState } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { linkState } from '../elements/linkState.js';
import { pageStyles } from '../pageStyles.js';
import { FLY_STEPS, type FlyLink, flyButtons, flyStep } from './flyStage.js';

/** What a button asks the station for. */
export type FlyCommand = 'fail-now' | 'restore' | 'pause' | 'stop';

/** @fires fly-command - CustomEvent<FlyCommand>: a button was pressed. */
@customElement('fly-live')
export class FlyLive extends LitElement {
  static override styles = [
    pageStyles,
    css`
      :host { padding: 1.2rem 0 0; }
      .steps { display: flex; flex-wrap: wrap; gap: 0.2rem 1.8rem; list-style: none; margin: 0; padding: 0; color: var(--quiet); }
      .steps li { padding-bottom: 0.15rem; border-bottom: 3px solid transparent; }
      .steps [aria-current] { color: var(--ink); font-weight: 600; border-bottom-color: var(--accent); }
      .now { min-height: 7.5rem; padding: 1.1rem 0 0.6rem; }
      h1 { font-size: clamp(1.75rem, 3.6vw, 2.9rem); }
      .next { margin-top: 0.5rem; font-size: clamp(1.0625rem, 1.7vw, 1.3125rem); }
      .alarm-now {
        display: flex; gap: 1rem; align-items: center; margin-top: 1rem; padding: 0.9rem 1.2rem; background: var(--alarm); color: var(--on-alarm);
        font: 600 clamp(1.25rem, 2.6vw, 2rem)/1.25 var(--sans);
      }
      .alarm-now svg { flex: none; }
      dl { display: grid; grid-template-columns: 1.36fr 1fr 1.08fr; margin: 0; border-top: 1px solid var(--rule); border-bottom: 1px solid var(--rule); }
      dl > div { padding: 1.1rem 0.5rem 1.2rem 0; }
      dl > div + div { padding-left: 1.6rem; border-left: 1px solid var(--rule); }
      dt { font-size: 1.125rem; color: var(--quiet); }
      dd { margin: 0 0 -0.12em; font: 400 clamp(4rem, 12.6vw, 13rem)/1.1 var(--serif); font-variant-numeric: tabular-nums lining-nums; letter-spacing: -0.02em; white-space: nowrap; }
      dd .unit { font: 400 clamp(1rem, 2vw, 1.6rem) var(--sans); letter-spacing: 0; color: var(--quiet); margin-left: 0.5rem; }
      dd.none { font: 400 1.5rem/1.4 var(--sans); color: var(--quiet); letter-spacing: 0; }
      .foot { display: flex; flex-wrap: wrap; align-items: center; gap: 0.75rem 1.5rem; padding-top: 1.2rem; }
      .foot .buttons { display: flex; flex-wrap: wrap; gap: 0.75rem; margin-left: auto; }
      .foot .button { min-height: 3rem; padding: 0.6rem 1.5rem; font-size: 1.125rem; }
      @media (max-width: 700px) {
        dl { grid-template-columns: 1fr 1fr; }
        dl > div:first-child { grid-column: 1 / -1; border-bottom: 1px solid var(--rule); }
        dl > div:nth-child(2) { padding-left: 0; border-left: 0; }
        dd:not(.none) { font-size: 4rem; }
        dl > div:first-child dd:not(.none) { font-size: 6.5rem; }
        .foot .buttons { margin-left: 0; width: 100%; }
        .foot .buttons .button { flex: 1; padding: 0.6rem 0.5rem; }
      }
    `,
  ];
  @property({ attribute: false }) live: LiveState | null = null;
  @property({ attribute: false }) link: FlyLink | null = null;
  @property({ attribute: false }) busy = false;
  /** What is read out: only when the exercise changes its state, not with each figure in its text. */
  @state() private announced = '';
  private announcedState: string | null = null;

  override willUpdate() {
    const exercise = this.live?.exercise;
    if (!exercise || exercise.state === this.announcedState) return;
    this.announcedState = exercise.state;
    this.announced = `${exercise.text} ${exercise.next}`;
  }

  override render() {
    const { live } = this;
    if (!live) return nothing;
    const { exercise } = live;
    const buttons = flyButtons(exercise.state, this.link);
    const step = flyStep(exercise.state);
    return html`<ol class="steps" aria-label="Steps of the exercise">${FLY_STEPS.map(
      (name, i) => html`<li aria-current=${i === step ? 'step' : nothing}>${name}</li>`,
    )}</ol>
      <p class="unseen" role="status">${this.announced}</p>
      ${
        live.alarm
          ? html`<div class="alarm-now" role="alert" data-testid="alarm">
              <svg width="40" height="40" viewBox="0 0 40 40" aria-hidden="true"><path d="M20 3L38 36H2Z" fill="none" stroke="currentColor" stroke-width="3.5"
                ></path><path d="M20 15V26M20 29V32.5" stroke="currentColor" stroke-width="3.5"></path></svg>
              <span>${live.alarm}</span>
            </div>`
          : nothing
      }
      <div class="now">
        <h1 data-testid="exercise-text" data-state=${exercise.state}>${exercise.text}</h1>
        <p class="next" data-testid="exercise-next">${exercise.next}</p>
      </div>
      <dl>
        ${reading('Height', 'height', live.heightFt, 'ft')}
        ${reading('Airspeed', 'speed', live.indicatedAirspeedKt, 'kt')} ${bankReading(live.bankDeg)}
      </dl>
      <div class="foot">
        ${linkState(live.link)} ${this.link ? html`<span class="quiet">${this.link.name}</span>` : nothing}
        <div class="buttons">
          ${buttons.failNow ? this.button('fail-now', 'Fail now', 'alarm') : nothing}
          ${buttons.restore ? this.button('restore', 'Restore power', '') : nothing}
          ${buttons.pause ? this.button('pause', 'Pause or go on', '') : nothing}
          ${buttons.stop ? this.button('stop', 'Stop', '') : nothing}
        </div>
      </div>`;
  }

  private button(command: FlyCommand, text: string, kind: string) {
    const tell = () => this.dispatchEvent(new CustomEvent('fly-command', { detail: command }));
    return html`<button class="button ${kind}" ?disabled=${this.busy} data-testid=${command} @click=${tell}>${text}</button>`;
  }
}

function reading(title: string, id: string, value: number | null, unit: string) {
  return html`<div><dt>${title}</dt>${
    value === null
      ? html`<dd class="none" data-testid="live-${id}">not measured</dd>`
      : html`<dd><span data-testid="live-${id}">${plainNumber(value)}</span><span class="unit">${unit}</span></dd>`
  }</div>`;
}

function bankReading(bankDeg: number | null) {
  if (bankDeg === null) return reading('Bank', 'bank', null, '');
  const size = Math.round(Math.abs(bankDeg));
  const side = size === 0 ? 'level' : bankDeg > 0 ? 'right' : 'left';
  return html`<div><dt>Bank</dt><dd><span data-testid="live-bank">${size}°</span><span class="unit" data-testid="live-bank-side">${side}</span></dd></div>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'fly-live': FlyLive;
  }
}
