// Element pilot-errors: how often pilots with ordinary errors come back from where the power was lost, on request.
import { plainNumber } from '@stillprop/charts';
import type { ReturnMoment } from '@stillprop/contracts';
import type { SpreadCounts } from '@stillprop/physics';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { pageStyles } from '../pageStyles.js';
import { DRAWS, type Moment, pilotErrorsWork, SEED } from '../pilotErrors.js';
import { drawnWords, outcomeRows, resultWords } from '../pilotErrorsWords.js';
import { countInWorkers } from '../workers/spreadPool.js';
import { pilotErrorsStyles } from './pilotErrorsStyles.js';

type Stage =
  | { readonly name: 'asked'; readonly cancelled: boolean }
  | { readonly name: 'counting'; readonly share: number }
  | { readonly name: 'counted'; readonly counts: SpreadCounts }
  | { readonly name: 'failed'; readonly problem: string };

const ASKED: Stage = { name: 'asked', cancelled: false };

@customElement('pilot-errors')
export class PilotErrors extends LitElement {
  static override styles = [pageStyles, pilotErrorsStyles];
  @property({ attribute: false }) moment: ReturnMoment | null = null;
  @state() private stage: Stage = ASKED;
  private counting: AbortController | undefined;

  override disconnectedCallback() {
    super.disconnectedCallback();
    this.counting?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (!changed.has('moment')) return;
    this.counting?.abort();
    this.stage = ASKED;
  }

  override render() {
    const { moment } = this;
    if (!moment) return nothing;
    return html`<h2>With ordinary errors</h2>
      ${
        moment.ok
          ? html`<p>From where the power was lost, in this wind: how often does a pilot come back who turns back with ordinary errors of delay,
              bank and speed? A model, for simulator practice only.</p>
              ${this.acting()} <div role="status">${this.said(moment.moment)}</div> ${this.drawn(moment.moment)}`
          : html`<p class="quiet" data-testid="errors-none">Nothing to work out: ${moment.why}.</p>`
      }`;
  }

  private acting() {
    const { stage } = this;
    if (stage.name === 'counted') return nothing;
    if (stage.name !== 'counting')
      return html`<div class="act"><button class="button" data-testid="errors-start" @click=${this.start}>Work it out with
        ${plainNumber(DRAWS)} flights</button></div>`;
    const flights = Math.round(stage.share * DRAWS);
    return html`<div class="act counting">
      <label for="flights">Flying …</label>
      <span class="done" data-testid="errors-flights">${plainNumber(flights)} of ${plainNumber(DRAWS)} flights</span>
      <progress id="flights" max=${DRAWS} .value=${flights} aria-valuetext="${plainNumber(flights)} of ${plainNumber(DRAWS)} flights"
        data-testid="errors-progress"></progress>
      <button class="button" data-testid="errors-cancel" @click=${this.cancel}>Cancel</button>
    </div>`;
  }

  /** What a screen reader is told as it comes: the end of the work, not each step. */
  private said(moment: Moment) {
    const { stage } = this;
    if (stage.name === 'failed') return html`<p class="problem" data-testid="errors-problem">${stage.problem}</p>`;
    if (stage.name === 'asked' && stage.cancelled)
      return html`<p class="quiet" data-testid="errors-cancelled">Cancelled; nothing was counted.</p>`;
    if (stage.name !== 'counted') return nothing;
    const { runway, airfield } = resultWords(stage.counts, moment);
    return html`<div class="result" tabindex="-1" data-testid="errors-result">
      <p class="runway" data-testid="errors-runway">${runway}</p>
      <p data-testid="errors-airfield">${airfield}</p>
      <table data-testid="errors-outcomes">
        <thead><tr><th scope="col">How it ended</th><th scope="col">flights</th><th scope="col">share</th></tr></thead>
        <tbody>${outcomeRows(stage.counts).map(
          ({ name, flights, share }) => html`<tr><th scope="row">${name}</th><td>${flights}</td><td>${share}</td></tr>`,
        )}</tbody>
      </table>
      <p>A real pilot does worse: the drawn one may correct the aim and takes the best of up to 7, never pulls past the stall margin, and
        meets no turbulence.</p>
    </div>`;
  }

  private drawn(moment: Moment) {
    const { stage } = this;
    return html`<details>
      <summary><span>How the errors are drawn</span></summary>
      <ul data-testid="errors-drawn">${drawnWords(moment).map((line) => html`<li>${line}</li>`)}
        <li>Drawn from seed ${SEED}, so the same attempt gives the same figures each
          time.${stage.name === 'counted' ? ` ${plainNumber(stage.counts.flights)} flown in all, corrections of the aim counted.` : nothing}</li>
      </ul>
    </details>`;
  }

  private start = async () => {
    const { moment } = this;
    if (!moment?.ok) return;
    const counting = new AbortController();
    const { signal } = counting;
    this.counting = counting;
    this.stage = { name: 'counting', share: 0 };
    await this.updateComplete;
    this.focusOn('[data-testid="errors-cancel"]');
    try {
      const onProgress = (share: number) => {
        if (!signal.aborted) this.stage = { name: 'counting', share };
      };
      const counts = await countInWorkers(pilotErrorsWork(moment.moment), { signal, onProgress });
      await this.end({ name: 'counted', counts }, '.result');
    } catch (error) {
      if (signal.aborted) return;
      const problem = error instanceof RangeError ? `Nothing to work out: ${error.message}.` : (error as Error).message;
      await this.end({ name: 'failed', problem }, '[data-testid="errors-start"]');
    }
  };

  private cancel = async () => {
    this.counting?.abort();
    await this.end({ name: 'asked', cancelled: true }, '[data-testid="errors-start"]');
  };

  /** The button that was pressed goes: the keyboard goes on at what came of it, unless it is elsewhere by now. */
  private async end(stage: Stage, next: string) {
    const followed = this.renderRoot.querySelector('[data-testid="errors-cancel"]:focus') !== null;
    this.stage = stage;
    await this.updateComplete;
    if (followed) this.focusOn(next);
  }

  private focusOn(selector: string) {
    this.renderRoot.querySelector<HTMLElement>(selector)?.focus({ preventScroll: true });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'pilot-errors': PilotErrors;
  }
}
