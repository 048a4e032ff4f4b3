// Page: teach Stillprop what an unknown simulator sends, slot by slot, and keep it as a link.
import {
  type Heard,
  LinkProfile,
  type LinkTransport,
  parseJson,
  type Station,
  type StationRequest,
} from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import type { z } from 'zod';
import { sendCommand } from '../api.js';
import { loadingNotice } from '../elements/notices.js';
import { liveFeed } from '../liveFeed.js';
import { pageStyles } from '../pageStyles.js';
import './linkChannels.js';
import { coverageWords, saveFields } from './linkCover.js';
import { coverageOf, draftOf, EMPTY_DRAFT, type LinkDraft, profileOf, type TaughtCommand } from './linkDraft.js';
import './linkMoves.js';
import './linkOrders.js';
import './linkPlace.js';
import './linkSlots.js';
import { linkStyles } from './linkStyles.js';

/** Longer without a message, the page says that it has gone quiet. */
const QUIET_S = 3;
const SAID_FOR_MS = 15_000;

@customElement('link-page')
export class LinkPage extends LitElement {
  static override styles = [pageStyles, linkStyles];
  @state() private feed = liveFeed.state;
  @state() private stationName: string | null = null;
  @state() private draft: LinkDraft = EMPTY_DRAFT;
  @state() private said: { readonly ok: boolean; readonly text: string } | null = null;
  @state() private busy = false;
  /** The last that was heard, so that nothing on the page goes when listening ends. */
  private heard: Heard | null = null;
  private onFeed = () => {
    this.feed = liveFeed.state;
    this.heard = this.station()?.heard ?? this.heard;
  };

  override connectedCallback() {
    super.connectedCallback();
    liveFeed.addEventListener('change', this.onFeed);
    this.onFeed();
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    liveFeed.removeEventListener('change', this.onFeed);
    // The link that was open before opens again.
    const station = this.station();
    if (station?.heard) void sendCommand(station.station, { command: 'stop-listening' }).catch(() => undefined);
  }

  override render() {
    if (this.feed.connection === 'connecting') return loadingNotice('Looking for the debrief server …');
    if (this.feed.connection === 'lost') {
      return empty(
        'unreachable',
        'The debrief server cannot be reached.',
        'This page looks for it again by itself. What you have set here stays.',
      );
    }
    const station = this.station();
    if (station === undefined) {
      return empty(
        'no-station',
        'No station is connected.',
        html`Start one with <code>npx stillprop start</code>. It appears here as soon as it is there.`,
      );
    }
    const listens = station.heard !== undefined;
    const heard = station.heard ?? this.heard;
    const { draft } = this;
    const onDraft = (event: CustomEvent<LinkDraft>) => {
      this.draft = event.detail;
    };
    const profile = profileOf(draft, heard);
    return html`<div class="intro">
        <h1>Teach Stillprop your simulator.</h1>
        <p class="quiet">Set your simulator to send its state, listen for it here, say what each number is, and save it as a link.</p>
      </div>
      ${this.stations(station)}
      ${this.said === null ? nothing : html`<div class="notice ${this.said.ok ? '' : 'alarm'}" role=${this.said.ok ? 'status' : 'alert'} data-testid="said"><p>${this.said.text}</p></div>`}
      <section aria-labelledby="listen"><h2 id="listen">1. Listen</h2><link-place .listens=${listens} .busy=${this.busy} .base=${draft.base?.transport ?? null}
          @listen-there=${(event: CustomEvent<LinkTransport>) => this.listen(station, event.detail)}
          @not-there=${(event: CustomEvent<string>) => {
            this.said = { ok: false, text: event.detail };
          }}
          @stop-listening=${() => this.stop(station)}></link-place>${this.loadFields(station)}
        <p class="hearing" role="status" data-testid="hearing">${hearingWords(station.heard)}</p>
        ${heard && heard.received > 0 ? this.newest(heard) : nothing}</section>
      ${
        (heard === null || heard.slots.length === 0) && draft.base === null
          ? nothing
          : html`<section aria-labelledby="slots"><h2 id="slots">2. What arrives</h2>
              <p class="quiet">Choose what a slot gives, or let the next step find it.</p>
              <link-slots .heard=${heard} .draft=${draft} @draft=${onDraft}></link-slots></section>
            <section aria-labelledby="moves"><h2 id="moves">3. Find a slot by moving it</h2>
              <link-moves .heard=${listens ? heard : null} .draft=${draft} @draft=${onDraft}></link-moves></section>
            <section aria-labelledby="channels"><h2 id="channels">4. Units and signs</h2>
              <p class="quiet">Type what the cockpit shows now: the unit that fits is offered.</p>
              <link-channels .heard=${heard} .draft=${draft} @draft=${onDraft}></link-channels>${this.standIns()}</section>
            <section aria-labelledby="orders"><h2 id="orders">5. Commands</h2>
              <p class="quiet">What your simulator is sent. Testing sends it once, as in a failure: do it in a flight that may end.</p>
              <link-orders .draft=${draft} .sender=${heard?.sender ?? null} .goesBack=${goesBack(heard, draft)} .canTry=${listens && !this.busy} @draft=${onDraft}
                @try-command=${(event: CustomEvent<TaughtCommand>) => this.tryCommand(station, event.detail)}></link-orders></section>
            <section aria-labelledby="cover"><h2 id="cover">6. What it covers</h2>${coverageWords(coverageOf(profile), profile)}</section>
            <section aria-labelledby="save"><h2 id="save">7. Save</h2>${saveFields(draft, profile, this.busy, {
              change: (next) => {
                this.draft = next;
              },
              save: (value) => void this.send(station, { command: 'save-link', profile: value }),
            })}</section>`
      }`;
  }

  private loadFields(station: Station) {
    const links = station.hello?.links ?? [];
    return html`<div class="fields">
      <div class="field wide"><label for="load">Or change a link that is there</label>
        <select id="load" data-testid="load" @change=${(event: Event) => this.load(station, event.target as HTMLSelectElement)}>
          <option value="">none</option>${links.map(({ id, name }) => html`<option value=${id}>${name}</option>`)}</select></div>
      <div class="field wide"><label for="open">Or open a link file</label>
        <input id="open" type="file" accept="application/json,.json" @change=${(event: Event) => this.open(event.target as HTMLInputElement)} /></div>
    </div>`;
  }

  private newest(heard: Heard) {
    return html`<p class="small">${heard.rateHz} messages a second from ${heard.sender}${heard.senders > 1 ? html`, one of ${heard.senders} senders: give each a port of its own` : nothing}. ${heard.shape}</p>
      <pre tabindex="0" aria-label="The newest message" data-testid="newest">${heard.newest.trimEnd()}</pre>`;
  }

  private standIns() {
    const { draft } = this;
    return html`${
      draft.channels.timeS === undefined
        ? html`<label class="check"><input type="checkbox" data-testid="by-arrival" .checked=${draft.timeByArrival}
            @change=${() => {
              this.draft = { ...draft, timeByArrival: !draft.timeByArrival };
            }} /> It sends no time: take the time of arrival. A pause then looks like standing still.</label>`
        : nothing
    }${
      draft.channels.verticalSpeedFpm === undefined && draft.channels.altitudeFt !== undefined
        ? html`<label class="check"><input type="checkbox" .checked=${draft.climbFromAltitude}
            @change=${() => {
              this.draft = { ...draft, climbFromAltitude: !draft.climbFromAltitude };
            }} /> It sends no vertical speed: work it out from altitude. It then lags by half a second.</label>`
        : nothing
    }`;
  }

  /** Where several stations are connected: which one is taught. What was heard at another is forgotten. */
  private stations(current: Station) {
    const connected = this.feed.stations.filter((station) => station.connected);
    if (connected.length < 2) return nothing;
    return html`<div class="offers" role="group" aria-label="Station">${connected.map(
      ({ station }) =>
        html`<button class="button" aria-pressed=${station === current.station} @click=${() => {
          this.stationName = station;
          this.heard = this.station()?.heard ?? null;
        }}>${station}</button>`,
    )}</div>`;
  }

  private station(): Station | undefined {
    const connected = this.feed.stations.filter((station) => station.connected);
    return connected.find(({ station }) => station === this.stationName) ?? connected[0];
  }

  private listen(station: Station, transport: LinkTransport) {
    const { base } = this.draft;
    void this.send(station, { command: 'listen', transport, ...(base === null ? {} : { profile: base }) });
  }

  private async stop(station: Station) {
    await this.send(station, { command: 'stop-listening' });
    await this.updateComplete; // until then the button is disabled, and takes no focus
    const place = this.renderRoot.querySelector('link-place');
    await place?.updateComplete;
    place?.focus();
  }

  private async load(station: Station, select: HTMLSelectElement) {
    if (select.value === '') return;
    const answer = await this.send(station, { command: 'read-link', linkId: select.value });
    if (answer?.profile) this.take(answer.profile);
  }

  private async open(input: HTMLInputElement) {
    const file = input.files?.[0];
    if (file === undefined) return;
    const parsed = parseJson(LinkProfile, await file.text(), file.name);
    if (parsed.ok) this.take(parsed.value);
    else this.said = { ok: false, text: `${parsed.problem.message}.` };
  }

  private take(profile: LinkProfile) {
    this.draft = draftOf(profile);
    this.said = {
      ok: true,
      text: `${profile.name} is here to be changed. Listen, to see what it makes of what arrives.`,
    };
  }

  private async tryCommand(station: Station, name: TaughtCommand) {
    const profile = profileOf(this.draft, this.heard);
    if (!profile.ok) this.said = { ok: false, text: `${profile.problem.message}.` };
    else await this.send(station, { command: 'test-command', profile: profile.value, name });
  }

  /** What went well is said for a while, and then out of the way of what stands under it. */
  private forget(said: typeof this.said) {
    setTimeout(() => {
      if (this.said === said) this.said = null;
    }, SAID_FOR_MS);
  }

  private async send(station: Station, request: z.input<typeof StationRequest>) {
    this.busy = true;
    try {
      const answer = await sendCommand(station.station, request);
      this.said = { ok: true, text: answer.message };
      this.forget(this.said);
      return answer;
    } catch (error) {
      this.said = { ok: false, text: error instanceof Error ? error.message : 'The station did not take the command.' };
      return null;
    } finally {
      this.busy = false;
    }
  }
}

/** Over a connection a command needs no port of its own. */
function goesBack(heard: Heard | null, { base }: LinkDraft): boolean {
  return (heard?.transport ?? base?.transport)?.kind !== 'udp';
}

/** Short, and the same for as long as it is so: a screen reader says each change. */
function hearingWords(heard: Heard | undefined): string {
  if (heard === undefined) return 'Not listening.';
  if (heard.problem !== null) return `${heard.problem.charAt(0).toUpperCase()}${heard.problem.slice(1)}.`;
  if (heard.received === 0) {
    return 'listenPort' in heard.transport
      ? `Listening on port ${heard.transport.listenPort}. Nothing came yet: see that your simulator sends to this computer and this port.`
      : 'Connected. Nothing came yet: see that your simulator sends.';
  }
  if ((heard.quietS ?? 0) > QUIET_S) return 'It has gone quiet: is the simulator paused?';
  return 'Receiving.';
}

function empty(name: string, title: string, text: unknown) {
  return html`<div class="empty" data-testid=${`link-${name}`}><h1>${title}</h1><p class="quiet">${text}</p></div>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'link-page': LinkPage;
  }
}
