// Page: one attempt: the sentence, the score and its reasons, the flight in time and from above, the ledger.
import { defineCharts, type Ghost, type Reach, timeWindow } from '@stillprop/charts';
import { type AttemptDetail, DEBRIEF_TRACE_POINTS, type Trace } from '@stillprop/contracts';
import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { ApiFailure, getAttempt, getAttempts, getTrace } from '../api.js';
import '../elements/attemptNotes.js';
import '../elements/deleteAttempt.js';
import '../elements/findingsList.js';
import { failureNotice, loadingNotice } from '../elements/notices.js';
import '../elements/replayBar.js';
import { ghostOf, reachOf } from '../ghost.js';
import { liveFeed } from '../liveFeed.js';
import { pageStyles } from '../pageStyles.js';
import { ATTEMPTS_PATH, attemptPath } from '../routes.js';
import { ledgerEnd } from '../words.js';
import { attemptHead, attemptScore } from './attemptHead.js';
import { attemptPageStyles } from './attemptPageStyles.js';
import { type Neighbours, neighboursOf } from './neighbours.js';

/** One and the same list each time, so that nothing is drawn anew for it. */
const NONE: readonly string[] = [];

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
  /** Ground within reach when the power was lost; null: none, or not here yet. */
  @state() private reach: Reach | null = null;
  /** The time charts stand before anything else is drawn. */
  @state() private chartsPainted = false;
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
    if (this.failure)
      return html`${failureNotice(this.failure, () => this.load())}<delete-attempt .attemptId=${this.attemptId} .failure=${this.failure}></delete-attempt>`;
    const { detail, trace } = this;
    if (!detail || !trace) return loadingNotice('Reading the attempt …');
    const { score, header } = detail;
    const later = this.chartsPainted ? trace : null;
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
        ${trace.timeS.length === 0 ? nothing : this.bar(detail, trace)}
        <section class="plan" aria-labelledby="plan-title">
          <h2 id="plan-title" class="unseen">From above</h2>
          <plan-view .trace=${later} .score=${score} .runway=${header.runway} .weather=${header.weather} .cursorS=${this.cursorS} .ghost=${this.ghostShown ? this.ghost : null}
            .reach=${this.ghostShown ? this.reach : null}></plan-view>
        </section>
        <section class="profile" aria-labelledby="profile-title">
          <h2 id="profile-title" class="unseen">From the side</h2>
          <profile-view .trace=${later} .score=${score} .runway=${header.runway} .cursorS=${this.cursorS} .ghost=${this.ghostShown ? this.ghost : null}></profile-view>
        </section>
        <section class="time" aria-labelledby="time-title">
          <h2 id="time-title" class="unseen">The flight in time</h2>
          <time-charts .trace=${trace} .score=${score} .wingsLevelHeightFt=${header.rubric.wingsLevelHeightFt}
            .inferred=${header.imported?.unmeasured ?? NONE} .cursorS=${this.cursorS} .ghost=${this.ghostShown ? this.ghost : null}></time-charts>
        </section>
      </div>
      <div class="rest">
        <attempt-notes role="region" aria-label="Notes" .attemptId=${detail.summary.attemptId} .originS=${timeWindow(score, trace.timeS).originS} .cursorS=${this.cursorS}></attempt-notes>
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

  private bar({ score }: AttemptDetail, trace: Trace) {
    return html`<div class="bar"><replay-bar .span=${timeWindow(score, trace.timeS)} .timeS=${trace.timeS} .cursorS=${this.cursorS}></replay-bar>${
      this.ghost
        ? html`<label class="ghost"><input type="checkbox" data-testid="ghost" .checked=${this.ghostShown} @change=${() => {
            this.ghostShown = !this.ghostShown;
          }} /> as asked (dashed)</label>`
        : nothing
    }</div>`;
  }

  private foot({ score, header, summary }: AttemptDetail) {
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
        <delete-attempt .attemptId=${summary.attemptId} .summary=${summary}></delete-attempt>
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

  /** What may stand a moment later than the flight itself; the page is whole without the model's flights. */
  private async completePictures(detail: AttemptDetail) {
    await this.updateComplete;
    await framesPainted(2);
    if (this.detail !== detail) return;
    this.chartsPainted = true;
    import('../elements/pilotErrors.js').catch(() => undefined); // its place then stays empty
    await framesPainted(1);
    const ghost = await ghostOf(detail.returnMoment).catch(() => null);
    const reach = await reachOf(detail.returnMoment).catch(() => null);
    if (this.detail === detail) Object.assign(this, { ghost, reach });
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
        getTrace(this.attemptId, DEBRIEF_TRACE_POINTS, signal),
      ]);
      if (signal.aborted) return; // another attempt is asked for meanwhile
      this.failure = null;
      this.detail = detail;
      this.trace = trace;
      this.cursorS = detail.score.failure?.atS ?? detail.score.events[0]?.atS ?? null;
      this.ghost = null;
      this.reach = null;
      this.chartsPainted = false;
      void this.completePictures(detail);
      this.neighbours = await neighboursOf(this.attemptId, (limit, before) => getAttempts(limit, before, signal));
    } catch (error) {
      // An attempt that is on show stays there when only its neighbours could not be found.
      if (signal.aborted || this.detail?.summary.attemptId === this.attemptId) return;
      this.detail = null;
      this.failure = error;
    }
  }
}

/** Resolves when so many frames have been shown. */
async function framesPainted(count: number): Promise<void> {
  for (let frame = 0; frame < count; frame++) await new Promise((resolve) => requestAnimationFrame(resolve));
}

declare global {
  interface HTMLElementTagNameMap {
    'attempt-page': AttemptPage;
  }
}
