// Page: choose a scenario and a link, arm, follow the flight, and go on to its debrief when it has been scored.
import type { LiveState, Station, StationRequest } from '@stillprop/contracts';
import { css, html, LitElement, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import type { z } from 'zod';
import { sendCommand } from '../api.js';
import { loadingNotice } from '../elements/notices.js';
import { liveFeed } from '../liveFeed.js';
import { pageStyles } from '../pageStyles.js';
import { attemptPath, goTo, LINK_PATH } from '../routes.js';
import type { FlyCommand } from './flyLive.js';
import './flyLive.js';
import './flySetup.js';
import type { FlyOrder } from './flySetup.js';
import { type FlyStage, flyStage } from './flyStage.js';

@customElement('fly-page')
export class FlyPage extends LitElement {
  static override styles = [
    pageStyles,
    css`
      .stations { display: flex; flex-wrap: wrap; gap: 0.5rem; padding-top: 1rem; }
      .stations .button[aria-pressed='true'] { border-color: var(--accent); box-shadow: inset 0 -3px var(--accent); }
      .notice { margin-top: 1rem; }
      .notice a { margin-left: 0.5rem; }
    `,
  ];
  @state() private feed = liveFeed.state;
  @state() private stationName: string | null = null;
  @state() private problem: string | null = null;
  @state() private busy = false;
  /** The attempt this page has followed, whose debrief it goes to. */
  private followedId: string | null = null;
  private onFeed = () => {
    this.feed = liveFeed.state;
    const stage = this.stage();
    if (stage.stage === 'flying') this.followedId = stage.live.attemptId ?? this.followedId;
  };
  private onScored = (event: Event) => {
    if ((event as CustomEvent<string>).detail === this.followedId) goTo(attemptPath(this.followedId));
  };

  override connectedCallback() {
    super.connectedCallback();
    liveFeed.addEventListener('change', this.onFeed);
    liveFeed.addEventListener('attempt-scored', this.onScored);
    this.onFeed();
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    liveFeed.removeEventListener('change', this.onFeed);
    liveFeed.removeEventListener('attempt-scored', this.onScored);
  }

  override render() {
    const stage = this.stage();
    return html`${this.stations()} ${this.problem ? html`<div class="notice alarm" role="alert" data-testid="problem"><p>${this.problem}</p></div>` : nothing}
      ${this.content(stage)}`;
  }

  private content(stage: FlyStage) {
    switch (stage.stage) {
      case 'connecting':
        return loadingNotice('Looking for the debrief server …');
      case 'unreachable':
        return empty(
          'unreachable',
          'The debrief server cannot be reached.',
          html`This page looks for it again by itself. A flight that is being recorded goes on: the bridge keeps the recording until the
            server is back. If it does not come back, run <code>npx stillprop start</code>.`,
        );
      case 'no-station':
        return empty(
          'no-station',
          'No station is connected.',
          html`A station is the bridge beside a simulator. Start one with <code>npx stillprop start</code>, or with
            <code>npx stillprop start --bench</code> to have the stand-in simulator as well. It appears here as soon as it is there.`,
        );
      case 'no-link':
        return empty(
          'no-link',
          `${stage.station.station} has no link to a simulator.`,
          html`<a href=${LINK_PATH}>Teach it one</a>, or put a link profile into the data folder's <code>links</code> folder and start the bridge again.`,
        );
      case 'ready':
        return html`${alarmNotice(stage.station.live)} ${this.lastClosed(stage.station.live)}
          <fly-setup .links=${stage.links} .live=${stage.station.live} .busy=${this.busy}
            @fly-order=${(event: CustomEvent<FlyOrder>) => this.fly(stage.station, event.detail)}></fly-setup>`;
      case 'flying':
        return html`<fly-live .live=${stage.live} .link=${stage.link} .busy=${this.busy}
          @fly-command=${(event: CustomEvent<FlyCommand>) => this.send(stage.station, { command: event.detail })}></fly-live>`;
    }
  }

  private stations() {
    const connected = this.feed.stations.filter((station) => station.connected);
    if (this.feed.connection !== 'open' || connected.length < 2) return nothing;
    const shown = this.stage();
    const current = 'station' in shown ? shown.station.station : null;
    return html`<div class="stations" role="group" aria-label="Station">${connected.map(
      ({ station }) =>
        html`<button class="button" aria-pressed=${station === current} @click=${() => this.look(station)}>${station}</button>`,
    )}</div>`;
  }

  private lastClosed(live: LiveState | null) {
    if (!live?.lastClosed) return nothing;
    const { attemptId, text } = live.lastClosed;
    const awaited = attemptId === this.followedId;
    return html`<div class="notice" role="status" data-testid="last-closed">
      <p>${text} ${awaited ? 'It is being scored; its debrief opens by itself.' : nothing}
        <a href=${attemptPath(attemptId)} data-testid="open-debrief">Open its debrief</a></p>
      ${live.outboxWaiting > 0 ? html`<p class="quiet">${waiting(live.outboxWaiting)}</p>` : nothing}
    </div>`;
  }

  private stage(): FlyStage {
    return flyStage(this.feed, this.stationName);
  }

  private look(station: string) {
    this.stationName = station;
    this.followedId = null;
    this.onFeed();
  }

  private async fly(station: Station, { arm, begin }: FlyOrder) {
    const armed = await this.send(station, arm);
    if (armed && begin) await this.send(station, begin);
  }

  private async send(station: Station, request: z.input<typeof StationRequest>): Promise<boolean> {
    this.busy = true;
    this.problem = null;
    try {
      const answer = await sendCommand(station.station, request);
      if (request.command === 'arm') this.followedId = answer.attemptId ?? this.followedId;
      return true;
    } catch (error) {
      this.problem = error instanceof Error ? error.message : 'The station did not take the command.';
      return false;
    } finally {
      this.busy = false;
    }
  }
}

function alarmNotice(live: LiveState | null) {
  if (!live?.alarm) return nothing;
  return html`<div class="notice alarm" role="alert" data-testid="station-alarm"><p>${live.alarm}</p></div>`;
}

function waiting(count: number): string {
  return count === 1 ? 'One recording waits for the server.' : `${count} recordings wait for the server.`;
}

function empty(state: string, title: string, text: unknown) {
  return html`<div class="empty" data-testid=${`fly-${state}`}><h1>${title}</h1><p class="quiet">${text}</p></div>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'fly-page': FlyPage;
  }
}
