// Element profile-view: the flight from the side, height against distance along the runway, to a stated exaggeration.
import type { Runway, Score, Trace } from '@stillprop/contracts';
import { css, html, nothing, svg } from 'lit';
import { property } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { figure } from './figures.js';
import { GHOST_LABEL, type Ghost } from './ghost.js';
import type { Point } from './labelPlacement.js';
import { svgPath } from './planFrame.js';
import { type ProfileLayout, type ProfileMark, profileLayout, profilePoint } from './profileLayout.js';
import { sharedStyles } from './sharedStyles.js';
import { LINE_PX, SizedView } from './sizedView.js';

const MARGIN = { left: 34, right: 34, top: 22, bottom: 14 };

/** Fills its own box: give it a height. The plan's table gives its places; this one its heights. */
export class ProfileView extends SizedView {
  static override styles = [
    sharedStyles,
    css`
      :host { display: flex; flex-direction: column; min-height: 0; }
      .map { flex: 1 1 0; min-height: 90px; position: relative; overflow: hidden; }
      .map > svg { position: absolute; inset: 0; display: block; }
      text { font: 13px var(--sans); fill: var(--ink); }
      text.quiet { fill: var(--quiet); }
      .grid { stroke: var(--rule); stroke-width: 1; }
      .ground { stroke: var(--quiet); stroke-width: 1; }
      .airfield { stroke: var(--quiet); stroke-width: 3; }
      .runway { stroke: var(--ink); stroke-width: 6; }
      .track { fill: none; stroke: var(--ink); stroke-width: 2; stroke-linejoin: round; }
      .track.before { stroke: var(--quiet); stroke-width: 1.25; }
      .track.ghost { stroke: var(--accent); stroke-width: 1.5; stroke-dasharray: 6 4; }
      .mark { fill: none; stroke: var(--alarm); stroke-width: 2.25; }
      .mark.first-action { stroke: var(--accent); fill: var(--paper); }
      .leader { stroke: var(--quiet); stroke-width: 1; }
      .moment { fill: none; stroke: var(--accent); stroke-width: 3; }
      .foot { display: flex; flex-wrap: wrap; justify-content: space-between; gap: 0 1.4rem; font-size: 0.8125rem; color: var(--quiet); }
      details[open] { flex: 1 0 100%; }
      p { margin: 0; line-height: 24px; }
    `,
  ];
  @property({ attribute: false }) trace: Trace | null = null;
  @property({ attribute: false }) score: Score | null = null;
  @property({ attribute: false }) runway: Runway | null = null;
  /** The moment marked on the track (recording seconds); null: none. */
  @property({ attribute: false }) cursorS: number | null = null;
  /** Flown as asked by the model; null: not drawn. */
  @property({ attribute: false }) ghost: Ghost | null = null;
  private layout: ProfileLayout | null = null;

  override willUpdate(changed: Map<PropertyKey, unknown>) {
    if (changed.size === 1 && changed.has('cursorS')) return; // moving the cursor lays nothing out anew
    const { trace, score, runway, box } = this;
    if (!trace || !score || !runway || box.width === 0) return;
    const area = {
      x: MARGIN.left,
      y: MARGIN.top,
      width: box.width - MARGIN.left - MARGIN.right,
      height: box.height - MARGIN.top - MARGIN.bottom,
    };
    this.layout = profileLayout(trace, score, runway, area, this.measure(), this.ghost);
  }

  override render() {
    const { trace, score, layout, runway } = this;
    if (!trace || !score || !runway || trace.alongFt.every((value) => value === null)) return nothing;
    return html`<div class="map">${layout ? this.drawing(layout, trace, runway) : nothing}</div>
      <div class="foot">
        <p>${layout === null ? nothing : exaggerationWords(layout.exaggeration)}${this.ghost ? ` Dashed: ${GHOST_LABEL}.` : nothing}</p>
        ${guard([score], () => this.table(score))}
      </div>`;
  }

  private drawing(layout: ProfileLayout, trace: Trace, runway: Runway) {
    const { width, height } = this.box;
    const moment = this.cursorS === null ? null : profilePoint(layout, trace, this.cursorS);
    return html`<svg width=${width} height=${height} viewBox="0 0 ${width} ${height}" role="img"
        aria-label="The flight from the side, take-off from runway ${runway.name} to the right. The table below gives its heights.">
      ${guard([layout], () => fixed(layout, width))}
      ${moment ? svg`<circle class="moment" cx=${moment.x} cy=${moment.y} r="8"></circle>` : nothing}
    </svg>`;
  }

  private table({ events }: Score) {
    return html`<details>
      <summary><span>Heights as a table</span></summary>
      <div class="table-box" tabindex="0" role="region" aria-label="Heights of the flight's events">
        <table>
          <thead><tr><th scope="col">Event</th><th scope="col">height</th></tr></thead>
          <tbody>${events.map((event) => html`<tr><th scope="row">${event.text}</th><td>${figure(event.heightFt, 'ft')}</td></tr>`)}</tbody>
        </table>
      </div>
    </details>`;
  }
}

/** All that stays where it is while the moment moves. */
function fixed(layout: ProfileLayout, width: number) {
  return svg`${layout.heights.map(
    ({ y, text }) => svg`<line class="grid" x1=${MARGIN.left} y1=${y} x2=${width - MARGIN.right} y2=${y}></line>
          <text class="quiet" x=${MARGIN.left} y=${y - 3}>${text}</text>`,
  )}
      ${line('ground', layout.ground)} ${line('airfield', layout.airfield)} ${line('runway', layout.runway)}
      ${layout.ghost.length > 1 ? svg`<path class="track ghost" d=${svgPath(layout.ghost)}></path>` : nothing}
      ${layout.before.map((points) => svg`<path class="track before" d=${svgPath(points)}></path>`)}
      ${layout.after.map((points) => svg`<path class="track" d=${svgPath(points)}></path>`)}
      ${layout.marks.map(markShape)}
      ${layout.labels.map(({ leader }) => (leader ? line('leader', leader) : nothing))}
      ${layout.labels.map(({ text, box }) => svg`<text x=${box.x} y=${box.y + LINE_PX - 4}>${text}</text>`)}`;
}

function exaggerationWords(times: number): string {
  return times === 1 ? 'From the side, to scale.' : `From the side: heights are drawn ${times} times as tall.`;
}

function line(name: string, [from, to]: readonly [Point, Point]) {
  return svg`<line class=${name} x1=${from.x} y1=${from.y} x2=${to.x} y2=${to.y}></line>`;
}

function markShape({ kind, at: { x, y } }: ProfileMark) {
  const d = {
    'power-lost': `M${x - 5.5} ${y - 5.5}L${x + 5.5} ${y + 5.5}M${x + 5.5} ${y - 5.5}L${x - 5.5} ${y + 5.5}`,
    'first-action': `M${x} ${y - 5}L${x + 5} ${y + 4}L${x - 5} ${y + 4}Z`,
    touchdown: `M${x} ${y - 9}V${y + 9}`,
  }[kind];
  return svg`<path class="mark ${kind}" d=${d}></path>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'profile-view': ProfileView;
  }
}
