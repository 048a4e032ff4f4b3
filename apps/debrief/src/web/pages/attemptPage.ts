// Page: one attempt: the sentence, the score and its reasons, the flight in time and from above, the ledger.
import { defineCharts, type Ghost, timeWindow } from '@stillprop/charts';
import type { AttemptDetail, Trace } from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { ApiFailure, getAttempt, getAttempts, getTrace } from '../api.js';
import '../elements/findingsList.js';
import { failureNotice, loadingNotice } from '../elements/notices.js';
import '../elements/pilotErrors.js';
import '../elements/replayBar.js';
import { ghostOf } from '../ghost.js';
import { liveFeed } from '../liveFeed.js';
import { pageStyles } from '../pageStyles.js';
import { ATTEMPTS_PATH, attemptPath } from '../routes.js';
import { ledgerEnd } from '../words.js';
import { attemptHead, attemptScore } from './attemptHead.js';
import { attemptPageStyles } from './attemptPageStyles.js';
import { type Neighbours, neighboursOf } from './neighbours.js';

const TRACE_POINTS = 1500;

defineCharts();

@customElement('attempt-page')
export class AttemptPage extends LitElement {
  static override styles = [pageStyles, attemptPageStyles];
  @property({ attribute: false }) attemptId = '';
  @state() private detail: AttemptDetail | null = null;
  @state() private trace: Trace | null = null;
  @state() private neighbours: Neighbours | null = null;
  @state() private failure: unknown = null;
  /** The moment all charts show (recording seconds). */
  @state() private cursorS: number | null = null;
  /** The technique asked, flown by the model from the same state; null: there is none, or it is not here yet. */
  @state() private ghost: Ghost | null = null;
  @state() private ghostShown = true;
  private loading: AbortController | undefined;
  private onScored = (event: Event) => {
    if ((event as CustomEvent<string>).detail === this.attemptId && !this.detail) this.load();
  };

  private onBack = () => {
    if (this.failure instanceof ApiFailure && this.failure.kind === 'unreachable') this.load();
  };

  override connectedCallback() {
    super.connectedCallback();
    liveFeed.addEventListener('back', this.onBack);
    liveFeed.addEventListener('attempt-scored', this.onScored);
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    liveFeed.removeEventListener('back', this.onBack);
    liveFeed.removeEventListener('attempt-scored', this.onScored);
    this.loading?.abort();
  }
  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (!changed.has('attemptId')) return;
    this.detail = null; // another attempt on show would pass for this one
    this.failure = null;
    this.load();
  }

  override render() {
    if (this.failure instanceof ApiFailure && this.failure.kind === 'missing') return this.missing();
    if (this.failure) return failureNotice(this.failure, () => this.load());
    const { detail, trace } = this;
    if (!detail || !trace) return loadingNotice('Reading the attempt …');
    const { score, header } = detail;
    return html`<article @cursor-time=${this.onCursor}>
      <section class="head">
        ${attemptHead(detail)} ${attemptScore(detail)}
      </section>
      <section class="criteria" aria-labelledby="criteria-title">
        <h2 id="criteria-title" class="unseen">The four criteria</h2>
        <score-bars .criteria=${score.criteria}></score-bars>
      </section>
      ${
        score.findings.length === 0
          ? nothing
          : html`<section class="findings" aria-labelledby="findings-title">
              <h2 id="findings-title">Findings</h2>
              <findings-list .findings=${score.findings} .hasTotal=${score.overall !== null}></findings-list>
            </section>`
      }
      <div class="pictures">
        <div class="bar"><replay-bar .span=${timeWindow(score, trace.timeS)} .cursorS=${this.cursorS}></replay-bar>${
          this.ghost
            ? html`<label class="ghost"><input type="checkbox" data-testid="ghost" .checked=${this.ghostShown} @change=${() => {
                this.ghostShown = !this.ghostShown;
              }} /> dashed: as asked</label>`
            : nothing
        }</div>
        <section class="plan" aria-labelledby="plan-title">
          <h2 id="plan-title" class="unseen">From above</h2>
          <plan-view .trace=${trace} .score=${score} .runway=${header.runway} .weather=${header.weather} .cursorS=${this.cursorS} .ghost=${this.ghostShown ? this.ghost : null}></plan-view>
        </section>
        <section class="profile" aria-labelledby="profile-title">
          <h2 id="profile-title" class="unseen">From the side</h2>
          <profile-view .trace=${trace} .score=${score} .runway=${header.runway} .cursorS=${this.cursorS} .ghost=${this.ghostShown ? this.ghost : null}></profile-view>
        </section>
        <section class="time" aria-labelledby="time-title">
          <h2 id="time-title" class="unseen">The flight in time</h2>
          <time-charts .trace=${trace} .score=${score} .wingsLevelHeightFt=${header.rubric.wingsLevelHeightFt}
            .cursorS=${this.cursorS}></time-charts>
        </section>
      </div>
      <div class="rest">
        ${
          score.ledger
            ? html`<section aria-labelledby="ledger-title">
                <h2 id="ledger-title">Where the height went</h2>
                <height-ledger .ledger=${score.ledger} .end=${ledgerEnd(detail)}></height-ledger>
              </section>`
            : nothing
        }
        ${
          score.costs
            ? html`<section aria-labelledby="costs-title">
                <h2 id="costs-title">What each deviation cost</h2>
                <deviation-costs data-testid="costs" .costs=${score.costs}></deviation-costs>
              </section>`
            : nothing
        }
        ${
          detail.returnMoment
            ? html`<section aria-label="With ordinary errors"><pilot-errors .moment=${detail.returnMoment}></pilot-errors></section>`
            : nothing
        }
        ${this.foot(detail)}
      </div>
    </article>`;
  }

  private foot({ score, header }: AttemptDetail) {
    const { olderId, newerId } = this.neighbours ?? { olderId: null, newerId: null };
    return html`<footer>
      <p class="small quiet">Simulator practice only. Figures come from a model that leaves things out: turbulence, the state of this very
        aeroplane, surprise. For a real take-off go by the aircraft's handbook, local rules and a qualified instructor.</p>
      <nav aria-label="Other attempts">
        ${olderId ? html`<a class="button" href=${attemptPath(olderId)} data-testid="previous-attempt">Previous attempt</a>` : nothing}
        ${newerId ? html`<a class="button" href=${attemptPath(newerId)} data-testid="next-attempt">Next attempt</a>` : nothing}
        <a class="button" href=${ATTEMPTS_PATH}>All attempts</a>
        <button class="button" @click=${() => print()}>Print</button>
        <a class="button" href="/api/attempts/${header.attemptId}/samples.csv" download>Samples as CSV</a>
      </nav>
      <p class="small quiet">Attempt ${header.attemptId}, flown at ${header.station} through ${header.link}. Scored by engine
        ${score.engineRevision}.</p>
    </footer>`;
  }

  private missing() {
    return html`<div class="empty" data-testid="missing-attempt">
      <h1>This attempt is not here.</h1>
      <p class="quiet">Either its recording has not arrived yet, and the page shows it as soon as it does, or no attempt has the number
        ${this.attemptId}.</p>
      <a class="button" href=${ATTEMPTS_PATH}>All attempts</a>
    </div>`;
  }

  private async flyGhost(detail: AttemptDetail) {
    const ghost = await ghostOf(detail.returnMoment).catch(() => null); // the page is whole without it
    if (this.detail === detail) this.ghost = ghost;
  }

  private onCursor(event: CustomEvent<number>) {
    this.cursorS = event.detail;
  }

  private async load() {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    const { signal } = loading;
    this.neighbours = null;
    try {
      const [detail, trace] = await Promise.all([
        getAttempt(this.attemptId, signal),
        getTrace(this.attemptId, TRACE_POINTS, signal),
      ]);
      this.failure = null;
      this.detail = detail;
      this.trace = trace;
      this.cursorS = detail.score.failure?.atS ?? detail.score.events[0]?.atS ?? null;
      this.ghost = null;
      void this.flyGhost(detail);
      this.neighbours = await neighboursOf(this.attemptId, (limit, before) => getAttempts(limit, before, signal));
    } catch (error) {
      // An attempt that is on show stays there when only its neighbours could not be found.
      if (signal.aborted || this.detail?.summary.attemptId === this.attemptId) return;
      this.detail = null;
      this.failure = error;
    }
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'attempt-page': AttemptPage;
  }
}
