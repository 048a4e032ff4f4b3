// Element time-charts: height, airspeed, bank and vertical speed over one time axis with one cursor.
import type { Score, Trace } from '@stillprop/contracts';
import { html, LitElement, nothing, type PropertyValues, unsafeCSS } from 'lit';
import { property, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import uPlot from 'uplot';
import uPlotCss from 'uplot/dist/uPlot.min.css?inline'; // page CSS does not reach into a shadow root
import { type ChartsDrawing, chartsDrawing } from './chartsDrawing.js';
import { cell, chartsOverlay } from './chartsOverlay.js';
import { onColoursChange, pageColours } from './colours.js';
import { cursorStep, spokenMoment } from './cursor.js';
import { bankFigure, plainNumber } from './figures.js';
import { figureRows } from './figuresTable.js';
import { type Ghost, ghostAt } from './ghost.js';
import { GHOST_OF } from './panels.js';
import { PLOT_PAD_PX, plotOptions } from './plotOptions.js';
import { sharedStyles } from './sharedStyles.js';
import { TIME_AXIS_PX } from './stackLayout.js';
import { textMeasure } from './textMeasure.js';
import { timeChartsStyles } from './timeChartsStyles.js';
import { phaseAt } from './traceAt.js';

/** What makes the charts anew; the cursor does not. */
const DRAWN: readonly (keyof TimeCharts)[] = ['trace', 'score', 'wingsLevelHeightFt', 'whole', 'ghost'];

/**
 * Fills its own box: give it a height.
 * @fires cursor-time - CustomEvent<number>: the moment under the pointer or chosen by key (recording seconds).
 */
export class TimeCharts extends LitElement {
  static override styles = [unsafeCSS(uPlotCss), sharedStyles, timeChartsStyles];
  @property({ attribute: false }) trace: Trace | null = null;
  @property({ attribute: false }) score: Score | null = null;
  /** Height below which no turn should be on (ft); null: not drawn. */
  @property({ attribute: false }) wingsLevelHeightFt: number | null = null;
  /** Flown as asked by the model; null: not drawn. */
  @property({ attribute: false }) ghost: Ghost | null = null;
  /** Columns that the recording's source did not measure. */
  @property({ attribute: false }) inferred: readonly string[] = [];
  /** The moment shown (recording seconds); null: none. */
  @property({ attribute: false }) cursorS: number | null = null;
  /** Show the whole recording rather than from the loss of power to contact. */
  @property({ type: Boolean }) whole = false;
  @state() private drawing: ChartsDrawing | null = null;
  private plots: uPlot[] = [];
  private resize = new ResizeObserver(() => this.draw());
  private stopColours: (() => void) | undefined;

  override connectedCallback() {
    super.connectedCallback();
    this.stopColours = onColoursChange(() => this.draw());
    document.fonts.ready.then(() => this.draw());
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    this.stopColours?.();
    this.resize.disconnect();
    this.clear();
  }
  override updated(changed: PropertyValues<this>) {
    const stack = this.stackBox();
    if (stack) this.resize.observe(stack); // draws once at the start, too
    if (DRAWN.some((name) => changed.has(name))) this.draw();
  }

  override render() {
    const { trace, score, drawing } = this;
    if (!trace || !score) return nothing;
    if (trace.timeS.length === 0)
      return html`<p class="none">No samples in this recording, so there are no charts.</p>`;
    return html`<div class="stack" @pointermove=${this.onPointer} @pointerdown=${this.onPointer}>
        <div class="plots" aria-hidden="true"></div>
        ${drawing ? this.overlay(drawing, trace, score) : nothing}
      </div>
      <div class="foot">
        ${
          score.failure
            ? html`<button class="plain" aria-pressed=${this.whole} @click=${this.onWhole}>Whole flight</button>`
            : nothing
        }
        ${drawing ? guard([drawing, trace, score, this.ghost], () => this.table(drawing, trace, score)) : nothing}
      </div>`;
  }

  private overlay(drawing: ChartsDrawing, trace: Trace, score: Score) {
    const { stack, window } = drawing;
    const { fromS, toS, originS } = window;
    const shownS = this.cursorS === null ? null : Math.min(Math.max(this.cursorS, fromS), toS);
    const spoken =
      shownS === null ? 'no moment chosen' : spokenMoment(trace, window, phaseAt(score.phases, shownS), shownS);
    return html`<div class="slider" role="slider" tabindex="0" aria-label="Moment in the flight"
        aria-valuemin=${fromS - originS} aria-valuemax=${toS - originS} aria-valuenow=${(shownS ?? originS) - originS}
        aria-valuetext=${spoken} @keydown=${this.onKey}
        style="left:${stack.left}px;width:${stack.plotWidth}px;height:${stack.bottom}px"></div>
      ${chartsOverlay(drawing, trace, score, shownS, this.inferred)}`;
  }

  private table({ window }: ChartsDrawing, trace: Trace, score: Score) {
    const rows = figureRows(trace, score.events, window);
    const { ghost } = this;
    return html`<details>
      <summary><span>Figures as a table</span></summary>
      <div class="table-box" tabindex="0" role="region" aria-label="Figures of the time charts">
        <table>
          <thead><tr><th scope="col">s since ${window.originText}</th><th scope="col">height, ft</th>
            <th scope="col">airspeed, kt</th><th scope="col">stall speed, kt</th><th scope="col">bank</th>
            <th scope="col">vertical speed, ft/min</th><th scope="col">load, g</th>
            ${ghost ? html`<th scope="col">as asked: height, ft</th><th scope="col">airspeed, kt</th><th scope="col">bank</th>` : nothing}</tr></thead>
          <tbody>${rows.map(
            ({ sinceS, atS, event, values }) => html`<tr>
              <th scope="row">${plainNumber(sinceS, 1)}${event ? html`<br />${event}` : nothing}</th>
              <td>${cell(values.heightFt)}</td><td>${cell(values.indicatedAirspeedKt)}</td>
              <td>${cell(values.stallSpeedKt)}</td><td>${bankFigure(values.bankDeg)}</td>
              <td>${cell(values.verticalSpeedFpm)}</td><td>${cell(values.loadFactor, 2)}</td>${ghost ? ghostCells(ghost, atS) : nothing}</tr>`,
          )}</tbody>
        </table>
      </div>
    </details>`;
  }

  private draw() {
    const { trace, score } = this;
    const stack = this.stackBox();
    if (!trace || !score || !stack || stack.clientWidth === 0) {
      this.clear();
      return;
    }
    const fontFamily = getComputedStyle(this).fontFamily;
    this.drawing = chartsDrawing({
      trace,
      score,
      wingsLevelHeightFt: this.wingsLevelHeightFt,
      whole: this.whole,
      ghost: this.ghost,
      width: stack.clientWidth,
      height: stack.clientHeight,
      measure: textMeasure(`13px ${fontFamily}`),
    });
    this.clear();
    this.plot(this.drawing, trace, fontFamily);
  }

  private plot({ window, panels, stack, shades, moments }: ChartsDrawing, trace: Trace, fontFamily: string) {
    const box = this.renderRoot.querySelector<HTMLElement>('.plots');
    if (!box) return;
    const colours = pageColours(this);
    const { ghost } = this;
    const sinceS = trace.timeS.map((timeS) => timeS - window.originS);
    this.plots = panels.map((panel, i) => {
      const place = stack.panels[i] ?? { top: 0, height: 0 };
      const holder = document.createElement('div');
      holder.style.cssText = `position:absolute;left:0;top:${place.top - PLOT_PAD_PX}px`;
      box.append(holder);
      const options = plotOptions({
        panel,
        window,
        shades,
        momentsS: moments.map(({ atS }) => atS),
        hasGhost: ghost !== null,
        colours,
        fontFamily,
        width: stack.plotWidth,
        height: place.height,
        left: stack.left,
        timeUnit: stack.narrow ? '\u00a0s' : '',
        timeAxisPx: i === panels.length - 1 ? TIME_AXIS_PX : 0,
      });
      const column = panel.lines[0] && GHOST_OF[panel.lines[0].column];
      const beside = ghost && column ? [trace.timeS.map((timeS) => ghostAt(ghost, column, timeS))] : [];
      return new uPlot(options, [sinceS, ...panel.lines.map((line) => trace[line.column]), ...beside], holder);
    });
  }

  private clear() {
    for (const plot of this.plots) plot.destroy();
    this.plots = [];
    this.renderRoot.querySelector('.plots')?.replaceChildren();
  }

  private stackBox(): HTMLElement | null {
    return this.renderRoot.querySelector('.stack');
  }

  private onWhole() {
    this.whole = !this.whole;
  }

  private onPointer(event: PointerEvent) {
    const stack = this.stackBox();
    if (!this.drawing || !stack) return;
    const { left, plotWidth } = this.drawing.stack;
    const { fromS, toS } = this.drawing.window;
    const x = event.clientX - stack.getBoundingClientRect().left - left;
    if (x >= 0 && x <= plotWidth) this.tellMoment(fromS + (x / plotWidth) * (toS - fromS));
  }

  private onKey(event: KeyboardEvent) {
    if (!this.drawing || !this.trace) return;
    const { window } = this.drawing;
    const moved = cursorStep(event.key, event.shiftKey, this.cursorS ?? window.originS, window, this.trace.timeS);
    if (moved === null) return;
    event.preventDefault();
    this.tellMoment(moved);
  }

  private tellMoment(atS: number) {
    this.dispatchEvent(new CustomEvent('cursor-time', { detail: atS, bubbles: true, composed: true }));
  }
}

function ghostCells(ghost: Ghost, atS: number) {
  return html`<td>${cell(ghostAt(ghost, 'heightFt', atS))}</td><td>${cell(ghostAt(ghost, 'airspeedKcas', atS))}</td>
    <td>${bankFigure(ghostAt(ghost, 'bankDeg', atS))}</td>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'time-charts': TimeCharts;
  }
}
