// Element tracks-view: up to eight attempts from the loss of power on, over one runway and from the side, each labelled.
import type { Runway } from '@stillprop/contracts';
import { css, html, nothing, svg } from 'lit';
import { property } from 'lit/decorators.js';
import type { Point } from './labelPlacement.js';
import { svgPath } from './planFrame.js';
import { sharedStyles } from './sharedStyles.js';
import { LINE_PX, SizedView } from './sizedView.js';
import { MARK_PX, type ShownTrack, type TracksLayout, trackDash, tracksLayout } from './tracksLayout.js';

/**
 * Fills its own box: give it a height. What depends on the layout stands in the drawing alone: words under it would change
 * the room that the layout depends on. Its figures stand in the tables beside it.
 */
export class TracksView extends SizedView {
  static override styles = [
    sharedStyles,
    css`
      :host { display: flex; flex-direction: column; min-height: 0; }
      .map { flex: 1 1 0; min-height: 120px; position: relative; overflow: hidden; }
      .map > svg { position: absolute; inset: 0; display: block; }
      text { font: 13px var(--sans); fill: var(--ink); }
      text.quiet { fill: var(--quiet); }
      text.name { font-weight: 600; stroke: var(--paper); stroke-width: 6; paint-order: stroke; stroke-linejoin: round; }
      .field { fill: var(--sheet); stroke: var(--rule); }
      .runway { fill: var(--quiet); }
      .track { fill: none; stroke: var(--ink); stroke-width: 2; stroke-linejoin: round; }
      .track.other { stroke: var(--accent); }
      .start { fill: none; stroke: var(--alarm); stroke-width: 2.25; }
      .grid { stroke: var(--rule); }
      .ground { stroke: var(--quiet); }
      .strip { stroke: var(--ink); stroke-width: 6; }
      p { margin: 0; font-size: 0.8125rem; color: var(--quiet); line-height: 24px; }
      @media print {
        /* Paper has another width, and nothing is laid out anew for it: the drawing shrinks as a whole. */
        .map > svg { width: 100%; height: 100%; }
        text { fill: black; }
        text.name { stroke: white; }
        .track, .track.other, .start { stroke: black; }
        .field { fill: none; }
      }
    `,
  ];
  @property({ attribute: false }) tracks: readonly ShownTrack[] = [];
  @property({ attribute: false }) runway: Runway | null = null;

  override render() {
    const { runway, tracks, box } = this;
    if (!runway) return nothing;
    const layout = box.width > 0 ? tracksLayout(tracks, runway, box, this.measure()) : null;
    return html`<div class="map">${layout === null ? nothing : this.drawing(layout, runway)}</div>
      <p>Seen from above, to scale, and from the side. The cross is where the power was lost.</p>`;
  }

  private drawing({ field, runway: strip, ...layout }: TracksLayout, runway: Runway) {
    const { width, height } = this.box;
    const { scale, ground } = layout;
    return html`<svg width=${width} height=${height} viewBox="0 0 ${width} ${height}" role="img"
        aria-label="Tracks of ${this.tracks.length} attempts over runway ${runway.name}, from where the power was lost, take-off to the right; below, the same from the side.">
      <rect class="field" x=${field.x} y=${field.y} width=${field.width} height=${field.height}></rect>
      <rect class="runway" x=${strip.x} y=${strip.y - 1} width=${strip.width} height=${Math.max(3, strip.height)}></rect>
      ${layout.heights.map(
        ({ y, text }) => svg`<line class="grid" x1=${ground[0].x} y1=${y} x2=${ground[1].x} y2=${y}></line>
          <text class="quiet" x=${ground[0].x} y=${y - 3}>${text}</text>`,
      )}
      ${segment('ground', ground)} ${segment('strip', layout.strip)}
      ${layout.tracks.flatMap(({ plan, profile }, i) =>
        [...plan, ...profile].map(
          (points) =>
            svg`<path class=${i % 2 === 0 ? 'track' : 'track other'} stroke-dasharray=${trackDash(i)} d=${svgPath(points)}></path>`,
        ),
      )}
      ${layout.tracks.map(({ plan, profile }) => [startMark(plan[0]?.[0]), startMark(profile[0]?.[0])])}
      ${layout.labels.map(({ text, box }) => svg`<text class="name" x=${box.x} y=${box.y + LINE_PX - 4}>${text}</text>`)}
      <text x=${scale.at.x} y=${scale.at.y}>${scale.text}</text>
      ${layout.exaggeration === 1 ? nothing : svg`<text class="quiet" text-anchor="end" x=${width - scale.at.x} y=${scale.at.y}>heights ${layout.exaggeration} times as tall</text>`}
      <path class="track" stroke-width="1" d="M${scale.at.x + 60} ${scale.at.y - 4}h${scale.lengthPx}"></path>
    </svg>`;
  }
}

function segment(name: string, [from, to]: readonly [Point, Point]) {
  return svg`<line class=${name} x1=${from.x} y1=${from.y} x2=${to.x} y2=${to.y}></line>`;
}

function startMark(at: Point | undefined) {
  if (at === undefined) return nothing;
  const { x, y } = at;
  return svg`<path class="start" d=${`M${x - MARK_PX} ${y - MARK_PX}L${x + MARK_PX} ${y + MARK_PX}M${x + MARK_PX} ${y - MARK_PX}L${x - MARK_PX} ${y + MARK_PX}`}></path>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'tracks-view': TracksView;
  }
}
