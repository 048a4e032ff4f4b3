// Element plan-view: the flight from above, to scale, take-off to the right, with runway, airfield, marks and wind.
import type { Runway, Score, Trace, Weather } from '@stillprop/contracts';
import { css, html, nothing, svg } from 'lit';
import { property } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { bankFigure, figure } from './figures.js';
import type { Ghost } from './ghost.js';
import type { Point } from './labelPlacement.js';
import { planDirection, roundLength, svgPath } from './planFrame.js';
import type { PlanLabel } from './planLabels.js';
import { type PlanLayout, type PlanMark, planLayout, planPoint } from './planLayout.js';
import type { Reach } from './reach.js';
import { sharedStyles } from './sharedStyles.js';
import { LINE_PX, SizedView } from './sizedView.js';

const MARGIN = { x: 34, top: 22, bottom: 22 };

/** Fills its own box: give it a height. */
export class PlanView extends SizedView {
  static override styles = [
    sharedStyles,
    css`
      :host { display: flex; flex-direction: column; min-height: 0; }
      .map { flex: 1 1 0; min-height: 120px; position: relative; overflow: hidden; }
      svg { display: block; }
      .map > svg { position: absolute; inset: 0; }
      text { font: 13px var(--sans); fill: var(--ink); }
      text.quiet { fill: var(--quiet); }
      .field { fill: var(--sheet); stroke: var(--rule); }
      .runway { fill: var(--quiet); }
      .track { fill: none; stroke: var(--ink); stroke-width: 2; stroke-linejoin: round; }
      .track.before { stroke: var(--quiet); stroke-width: 1.25; }
      .track.ghost { stroke: var(--accent); stroke-width: 1.5; stroke-dasharray: 6 4; }
      .reach { fill: none; stroke: var(--quiet); stroke-width: 2; stroke-dasharray: 0.1 5; stroke-linecap: round; }
      .tick { fill: var(--ink); }
      .mark { fill: none; stroke: var(--alarm); stroke-width: 2.25; }
      .mark.turn-start { stroke: var(--accent); fill: var(--paper); }
      .leader { stroke: var(--quiet); stroke-width: 1; }
      .moment { fill: none; stroke: var(--accent); stroke-width: 3; }
      .foot { display: flex; flex-wrap: wrap; justify-content: space-between; gap: 0 1.4rem; }
      details[open] { flex: 1 0 100%; }
      .key { display: flex; flex-wrap: wrap; align-items: center; gap: 0 1.4rem; font-size: 0.8125rem; color: var(--quiet); min-height: 24px; }
      .key span { display: inline-flex; align-items: center; gap: 0.4rem; white-space: nowrap; }
      .key path { fill: none; stroke: currentColor; stroke-width: 1.5; }
      .key .ink path { stroke: var(--ink); }
      p { color: var(--quiet); font-size: 0.875rem; }
    `,
  ];
  @property({ attribute: false }) trace: Trace | null = null;
  @property({ attribute: false }) score: Score | null = null;
  @property({ attribute: false }) runway: Runway | null = null;
  @property({ attribute: false }) weather: Weather | null = null;
  /** The moment marked on the track (recording seconds); null: none. */
  @property({ attribute: false }) cursorS: number | null = null;
  /** Flown as asked by the model; null: not drawn. */
  @property({ attribute: false }) ghost: Ghost | null = null;
  /** Ground within reach when power was lost; null: not drawn. */
  @property({ attribute: false }) reach: Reach | null = null;
  private layout: PlanLayout | null = null;

  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.size === 1 && changed.has('cursorS')) return; // moving the cursor lays nothing out anew
    const { trace, score, runway, box } = this;
    if (!trace || !score || !runway || box.width === 0) return;
    const area = {
      x: MARGIN.x,
      y: MARGIN.top,
      width: box.width - 2 * MARGIN.x,
      height: box.height - MARGIN.top - MARGIN.bottom,
    };
    const { ghost, reach } = this;
    this.layout = planLayout({ trace, score, runway, area, measure: this.measure(), ghost, reach });
  }

  override render() {
    const { trace, layout, runway } = this;
    if (!trace || !runway) return nothing;
    if (trace.alongFt.every((value) => value === null)) {
      return html`<p>The recording gives no place on this runway, so there is no plan of the flight.</p>`;
    }
    return html`<div class="map">${layout ? this.drawing(layout, trace, runway) : nothing}</div>
      <div class="foot">${layout ? this.key(layout, runway) : nothing} ${guard([trace, this.score, this.reach], () => this.table(trace))}</div>`;
  }

  private drawing(layout: PlanLayout, trace: Trace, runway: Runway) {
    const { width, height } = this.box;
    const moment = this.cursorS === null ? null : planPoint(layout.frame, trace, this.cursorS);
    return html`<svg width=${width} height=${height} viewBox="0 0 ${width} ${height}" role="img"
        aria-label="Plan of the flight over runway ${runway.name}, take-off to the right. The table below gives its places.">
      ${guard([layout], () => fixed(layout))}
      ${moment ? svg`<circle class="moment" cx=${moment.x} cy=${moment.y} r="8"></circle>` : nothing}
    </svg>`;
  }

  private key(layout: PlanLayout, runway: Runway) {
    const lengthFt = roundLength(130 / layout.frame.pxPerFt);
    const lengthPx = lengthFt * layout.frame.pxPerFt;
    const winds = this.weather?.winds ?? [];
    return html`<div class="key">
      <span class="ink"><svg width=${lengthPx + 2} height="10" aria-hidden="true">
        <path d="M1 1V8H${lengthPx + 1}V1"></path></svg>${figure(lengthFt, 'ft')}</span>
      ${winds.length === 0 ? html`<span>No wind</span>` : nothing}
      ${winds.slice(0, 3).map(
        (wind, i) => html`<span class="ink">${arrow(planDirection(wind.fromTrueDeg + 180, runway.headingTrueDeg))}
          ${i === 0 ? 'wind ' : ''}${figure(wind.speedKt, 'kt')} at ${figure(wind.heightFt, 'ft')}</span>`,
      )}
      <span>${arrow(planDirection(0, runway.headingTrueDeg))} true north</span>
      ${layout.ticks.length > 0 ? html`<span><svg width="7" height="7" aria-hidden="true"><circle class="tick" cx="3.5" cy="3.5" r="2.75"></circle></svg>every 10 s</span>` : nothing}
    </div>`;
  }

  private table(trace: Trace) {
    const events = this.score?.events ?? [];
    const rows = events.flatMap((event) => {
      const i = trace.timeS.findIndex((timeS) => timeS >= event.atS);
      return i < 0 ? [] : [{ event, alongFt: trace.alongFt[i] ?? null, acrossFt: trace.acrossFt[i] ?? null }];
    });
    return html`<details>
      <summary><span>Places as a table</span></summary>
      <div class="table-box" tabindex="0" role="region" aria-label="Places of the flight's events">
        <table>
          <thead><tr><th scope="col">Event</th><th scope="col">height</th><th scope="col">along the take-off</th><th scope="col">beside the centreline</th></tr></thead>
          <tbody>${rows.map(
            ({
              event,
              alongFt,
              acrossFt,
            }) => html`<tr><th scope="row">${event.text}</th><td>${figure(event.heightFt, 'ft')}</td>
              <td>${figure(alongFt, 'ft')}</td><td>${sideText(acrossFt)}</td></tr>`,
          )}</tbody>
        </table>
        ${this.reach ? reachTable(this.reach) : nothing}
      </div>
    </details>`;
  }
}

function sideText(acrossFt: number | null): string {
  if (acrossFt === null) return figure(null, 'ft');
  return Math.round(acrossFt) === 0
    ? 'on it'
    : `${figure(Math.abs(acrossFt), 'ft')} ${acrossFt > 0 ? 'right' : 'left'}`;
}

/** Ends of the glides of every 45° turned: the dotted line in figures. */
function reachTable({ ends }: Reach) {
  const rows = ends.filter(({ turnDeg }) => Math.abs(turnDeg) % 45 < 1e-6);
  return html`<table>
    <thead><tr><th scope="col">Within reach at the failure, after turning</th><th scope="col">along the take-off</th><th scope="col">beside the centreline</th></tr></thead>
    <tbody>${rows.map(
      ({
        turnDeg,
        alongFt,
        acrossFt,
      }) => html`<tr><th scope="row">${turnDeg === 0 ? 'not at all' : bankFigure(turnDeg)}</th>
        <td>${figure(alongFt, 'ft')}</td><td>${sideText(acrossFt)}</td></tr>`,
    )}</tbody>
  </table>`;
}

/** All that stays where it is while the moment moves. */
function fixed(layout: PlanLayout) {
  const { airfield, runway: strip } = layout;
  return svg`<rect class="field" x=${airfield.x} y=${airfield.y} width=${airfield.width} height=${airfield.height}></rect>
      <rect class="runway" x=${strip.x} y=${strip.y} width=${strip.width} height=${strip.height}></rect>
      ${layout.reach.length > 1 ? svg`<path class="reach" d=${svgPath(layout.reach)}></path>` : nothing}
      ${layout.ghost.length > 1 ? svg`<path class="track ghost" d=${svgPath(layout.ghost)}></path>` : nothing}
      ${layout.before.map((line) => svg`<path class="track before" d=${svgPath(line)}></path>`)}
      ${layout.after.map((line) => svg`<path class="track" d=${svgPath(line)}></path>`)}
      ${layout.ticks.map(({ x, y }) => svg`<circle class="tick" cx=${x} cy=${y} r="2.75"></circle>`)}
      ${layout.labels.map(leader)} ${layout.marks.map(markShape)} ${layout.labels.map(labelText)}`;
}

function markShape({ kind, at: { x, y } }: PlanMark) {
  const d = {
    'power-lost': `M${x - 5.5} ${y - 5.5}L${x + 5.5} ${y + 5.5}M${x + 5.5} ${y - 5.5}L${x - 5.5} ${y + 5.5}`,
    'turn-start': `M${x} ${y - 5}L${x + 5} ${y + 4}L${x - 5} ${y + 4}Z`,
    touchdown: `M${x} ${y - 9}V${y + 9}`,
  }[kind];
  return svg`<path class="mark ${kind}" d=${d}></path>`;
}

function leader({ leader: line }: PlanLabel) {
  if (!line) return nothing;
  const [from, to] = line;
  return svg`<line class="leader" x1=${from.x} y1=${from.y} x2=${to.x} y2=${to.y}></line>`;
}

function labelText({ kind, text, box }: PlanLabel) {
  const quiet = kind === 'airfield' || kind === 'reach';
  return svg`<text class=${quiet ? 'quiet' : ''} x=${box.x} y=${box.y + LINE_PX - 4}>${text}</text>`;
}

function arrow({ x, y }: Point) {
  const angleDeg = (Math.atan2(y, x) * 180) / Math.PI;
  return html`<svg width="22" height="22" viewBox="-11 -11 22 22" aria-hidden="true">
    <path transform="rotate(${angleDeg.toFixed(1)})" d="M-9 0H9M3 -4.5L9 0L3 4.5"></path></svg>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'plan-view': PlanView;
  }
}
