// Element fly-setup: scenario, link and pilot, and the one button that begins.
import type { LiveState, ScenarioChoice, StationRequest } from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { z } from 'zod';
import { getScenarios } from '../api.js';
import { linkState } from '../elements/linkState.js';
import { failureNotice, loadingNotice } from '../elements/notices.js';
import { liveFeed } from '../liveFeed.js';
import { pageStyles } from '../pageStyles.js';
import { pilotWords } from '../words.js';
import { type FlyChoice, keepChoice, keptChoice, SPEEDS } from './flyChoice.js';
import { flySetupStyles } from './flySetupStyles.js';
import type { FlyLink } from './flyStage.js';

/** Commands to send, one after the other. */
export interface FlyOrder {
  readonly arm: z.input<typeof StationRequest>;
  /** Starts the stand-in; null: the pilot takes off in their own simulator. */
  readonly begin: z.input<typeof StationRequest> | null;
}

/** More are closed at first. */
const MOST_NOTES_OPEN = 4;

/** @fires fly-order - CustomEvent<FlyOrder>: the pilot pressed the button. */
@customElement('fly-setup')
export class FlySetup extends LitElement {
  static override styles = [pageStyles, flySetupStyles];
  @property({ attribute: false }) links: readonly FlyLink[] = [];
  @property({ attribute: false }) live: LiveState | null = null;
  @property({ attribute: false }) busy = false;
  @state() private scenarios: readonly ScenarioChoice[] | null = null;
  @state() private failure: unknown = null;
  @state() private choice: FlyChoice = keptChoice();

  private onBack = () => {
    if (this.failure) this.load();
  };

  override connectedCallback() {
    super.connectedCallback();
    liveFeed.addEventListener('back', this.onBack);
    this.load();
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    liveFeed.removeEventListener('back', this.onBack);
  }

  override render() {
    if (this.failure) return failureNotice(this.failure, () => this.load());
    if (!this.scenarios) return loadingNotice('Reading the scenarios …');
    const scenario = this.scenarios.find(({ id }) => id === this.choice.scenarioId) ?? this.scenarios[0];
    const link = this.links.find(({ id }) => id === this.choice.linkId) ?? this.links[0];
    if (!scenario || !link) {
      return html`<div class="empty"><h1>There is no scenario.</h1>
        <p class="quiet">Put one into the folder <code>catalogue/scenarios</code> of the data folder, and start Stillprop again.</p></div>`;
    }
    return html`<form @submit=${(event: Event) => this.go(event, scenario, link)}>
      <div class="intro">
        <h1>Take off, lose the engine, and see where every foot of height went.</h1>
        <p class="quiet">The engine fails at the scenario's height. Fly it to the ground, or decide to land ahead. The debrief opens by itself.</p>
      </div>
      <fieldset class="scenarios">
        <legend>Scenario</legend>
        ${this.scenarios.map((one) => this.scenario(one, one === scenario))}
      </fieldset>
      <div class="way">
        ${this.link(link)} ${link.pilots.length > 0 ? this.standIn(link) : nothing}
        <div class="field">
          <label for="student">Pilot's name <span class="quiet">(may be left empty)</span></label>
          <input id="student" type="text" maxlength="200" autocomplete="off" .value=${this.choice.student} data-testid="student"
            @input=${(event: Event) => this.choose({ student: (event.target as HTMLInputElement).value })} />
        </div>
        <button class="button main go" type="submit" ?disabled=${this.busy} data-testid=${link.pilots.length > 0 ? 'fly-stand-in' : 'arm'}>
          ${link.pilots.length > 0 ? 'Fly the stand-in' : 'Arm'}</button>
        <p class="small quiet">${
          link.pilots.length > 0
            ? 'Arms the exercise, and a scripted pilot takes off, loses the engine and flies it to the ground.'
            : 'Arms the exercise. Then take off in your simulator; the failure comes by itself.'
        }</p>
      </div>
    </form>`;
  }

  private scenario(one: ScenarioChoice, checked: boolean) {
    return html`<label class="scenario ${checked ? 'chosen' : ''}">
      <input type="radio" name="scenario" .checked=${checked} value=${one.id} data-testid="scenario-${one.id}"
        @change=${() => this.choose({ scenarioId: one.id })} />
      <span class="name">${one.name}</span>
      <span class="small quiet">${one.aircraftName}, runway\u00a0${one.runwayName}</span>
      ${one.briefing ? html`<span class="briefing">${one.briefing}</span>` : nothing}
    </label>`;
  }

  private link(link: FlyLink) {
    const { live } = this;
    const reports = live && live.link.profileId === link.id;
    return html`<div class="field">
      <label for="link">Simulator link</label>
      <select id="link" data-testid="link" @change=${(event: Event) => this.choose({ linkId: (event.target as HTMLSelectElement).value })}>
        ${this.links.map(({ id, name }) => html`<option value=${id} ?selected=${id === link.id}>${name}</option>`)}
      </select>
      ${link.description ? html`<p class="small quiet">${link.description}</p>` : nothing}
      ${this.notes(link)}
      ${reports ? html`<p class="small">${linkState(live.link)}</p>` : nothing}
    </div>`;
  }

  /**
   * What is lost, calculated or done by hand: to be read before the exercise. Open from the start, unless it is so long
   * that the button to arm would go out of sight.
   */
  private notes({ notes: all = [], commands }: FlyLink) {
    if (all.length === 0) return nothing;
    // How the failure is made, where no command makes it, comes first and is never folded away.
    const byCommand = commands.includes('fail') || commands.includes('setPower');
    const notes = byCommand ? all : all.slice(1);
    const { length } = notes;
    return html`${byCommand ? nothing : html`<p class="small"><strong>${all[0]}</strong></p>`}${
      length === 0
        ? nothing
        : html`<details class="small" ?open=${length <= MOST_NOTES_OPEN} data-testid="link-notes">
      <summary>Before you fly with this link: ${length === 1 ? 'one thing' : `${length} things`} to know</summary>
      <ul>${notes.map((note) => html`<li>${note}</li>`)}</ul>
    </details>`
    }`;
  }

  private standIn({ pilots }: FlyLink) {
    const { pilot, speed } = this.choice;
    return html`<div class="pair">
      <div class="field">
        <label for="pilot">Scripted pilot</label>
        <select id="pilot" data-testid="pilot" @change=${(event: Event) => this.choose({ pilot: (event.target as HTMLSelectElement).value })}>
          ${pilots.map((one) => html`<option value=${one} ?selected=${one === pilot}>${pilotWords(one)}</option>`)}
        </select>
      </div>
      <div class="field">
        <label for="speed">Speed</label>
        <select id="speed" data-testid="speed" @change=${(event: Event) => this.choose({ speed: Number((event.target as HTMLSelectElement).value) })}>
          ${SPEEDS.map((one) => html`<option value=${one} ?selected=${one === speed}>${one === 1 ? 'Real time' : `${one} times`}</option>`)}
        </select>
      </div>
    </div>`;
  }

  private choose(part: Partial<FlyChoice>) {
    this.choice = { ...this.choice, ...part };
    keepChoice(this.choice);
  }

  private go(event: Event, scenario: ScenarioChoice, link: FlyLink) {
    event.preventDefault();
    const { choice } = this;
    const student = choice.student.trim() === '' ? null : choice.student.trim();
    const pilot = link.pilots.find((one) => one === choice.pilot) ?? link.pilots[0];
    const order: FlyOrder = {
      arm: { command: 'arm', scenarioId: scenario.id, linkId: link.id, student },
      begin:
        pilot === undefined
          ? null
          : { command: 'begin', scenarioId: scenario.id, linkId: link.id, pilot, speed: choice.speed },
    };
    this.dispatchEvent(new CustomEvent('fly-order', { detail: order }));
  }

  private async load() {
    try {
      this.failure = null;
      this.scenarios = await getScenarios();
    } catch (error) {
      this.failure = error;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'fly-setup': FlySetup;
  }
}
