// Element tracks-view: the tracks of several attempts from the loss of power on, over one runway, labelled at their ends.
import type { Runway, Trace } from '@stillprop/contracts';
import { css, html, nothing, svg } from 'lit';
import { property } from 'lit/decorators.js';
import { figure } from './figures.js';
import { aroundPoint, type Point, placeLabel, thinned } from './labelPlacement.js';
import { planFrame, roundLength, svgPath, unbrokenPieces } from './planFrame.js';
import { sharedStyles } from './sharedStyles.js';
import { LINE_PX, SizedView } from './sizedView.js';

const MARGIN_PX = 26;
/** Told apart by their dashes and labels, not by colour alone. */
const DASHES = ['', '7 4', '2 3', '10 3 2 3', '4 2'];

export interface ShownTrack {
  readonly label: string;
  readonly trace: Trace;
  /** Loss of power (recording seconds); null: from its beginning. */
  readonly fromS: number | null;
}

/** Fills its own box: give it a height. Its figures stand in the tables beside it. */
export class TracksView extends SizedView {
  static override styles = [
    sharedStyles,
    css`
      :host { display: flex; flex-direction: column; min-height: 0; }
      .map { flex: 1 1 0; min-height: 120px; position: relative; overflow: hidden; }
      .map > svg { position: absolute; inset: 0; display: block; }
      text { font: 13px var(--sans); fill: var(--ink); }
      .field { fill: var(--sheet); stroke: var(--rule); }
      .runway { fill: var(--quiet); }
      .track { fill: none; stroke: var(--ink); stroke-width: 2; stroke-linejoin: round; }
      .track.other { stroke: var(--accent); }
      .start { fill: none; stroke: var(--alarm); stroke-width: 2.25; }
      p { margin: 0; font-size: 0.8125rem; color: var(--quiet); line-height: 24px; }
    `,
  ];
  @property({ attribute: false }) tracks: readonly ShownTrack[] = [];
  @property({ attribute: false }) runway: Runway | null = null;

  override render() {
    const { runway, tracks, box } = this;
    if (!runway) return nothing;
    return html`<div class="map">${box.width > 0 ? this.drawing(runway, tracks) : nothing}</div>`;
  }

  private drawing(runway: Runway, tracks: readonly ShownTrack[]) {
    const { width, height } = this.box;
    const lines = tracks.map(({ trace, fromS }) =>
      trace.timeS.flatMap((timeS, i) => {
        const [along, across] = [trace.alongFt[i], trace.acrossFt[i]];
        if (typeof along !== 'number' || typeof across !== 'number') return [null];
        return timeS >= (fromS ?? Number.NEGATIVE_INFINITY) ? [{ along, across }] : [];
      }),
    );
    const { airfield, lengthFt, widthFt } = runway;
    const places = lines.flat().filter((place) => place !== null);
    const alongs = [-airfield.beyondEndFt, lengthFt + airfield.beyondEndFt, ...places.map(({ along }) => along)];
    const acrosses = [-airfield.besideFt, airfield.besideFt, ...places.map(({ across }) => across)];
    const least = (values: readonly number[]) => values.reduce((a, b) => Math.min(a, b));
    const most = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b));
    const frame = planFrame(
      {
        alongFromFt: least(alongs),
        alongToFt: most(alongs),
        acrossFromFt: least(acrosses),
        acrossToFt: most(acrosses),
      },
      { x: MARGIN_PX, y: MARGIN_PX, width: width - 2 * MARGIN_PX, height: height - 2 * MARGIN_PX },
    );
    const pieces = lines.map((line) =>
      unbrokenPieces(line.map((place) => place && frame.toPx(place.along, place.across))),
    );
    const field = [
      frame.toPx(-airfield.beyondEndFt, -airfield.besideFt),
      frame.toPx(lengthFt + airfield.beyondEndFt, airfield.besideFt),
    ] as const;
    const strip = [frame.toPx(0, -widthFt / 2), frame.toPx(lengthFt, widthFt / 2)] as const;
    const scaleFt = roundLength(130 / frame.pxPerFt);
    return html`<svg width=${width} height=${height} viewBox="0 0 ${width} ${height}" role="img"
        aria-label="Tracks of ${tracks.length} attempts over runway ${runway.name}, from where the power was lost, take-off to the right.">
      <rect class="field" x=${field[0].x} y=${field[0].y} width=${field[1].x - field[0].x} height=${field[1].y - field[0].y}></rect>
      <rect class="runway" x=${strip[0].x} y=${strip[0].y - 1} width=${strip[1].x - strip[0].x} height=${Math.max(3, strip[1].y - strip[0].y)}></rect>
      ${pieces.flatMap((track, i) =>
        track.map(
          (points) =>
            svg`<path class=${i % 2 === 0 ? 'track' : 'track other'} stroke-dasharray=${DASHES[i % DASHES.length] ?? ''} d=${svgPath(points)}></path>`,
        ),
      )}
      ${pieces.map((track) => startMark(track[0]?.[0]))}
      ${this.labels(pieces, width, height)}
      <text x=${MARGIN_PX} y=${height - 8}>${figure(scaleFt, 'ft')}</text>
      <path class="track" stroke-width="1" d="M${MARGIN_PX + 60} ${height - 12}h${scaleFt * frame.pxPerFt}"></path>
    </svg>`;
  }

  /** Each beside the middle of its track, where there is room. */
  private labels(pieces: readonly Point[][][], width: number, height: number) {
    const measure = this.measure();
    const area = { x: 4, y: 4, width: width - 8, height: height - 24 };
    const obstacles = {
      lines: pieces.flat().map((line) => thinned(line, 3)),
      boxes: [] as { x: number; y: number; width: number; height: number }[],
    };
    return this.tracks.map(({ label }, i) => {
      const points = pieces[i]?.flat() ?? [];
      const size = measure(label);
      for (const share of [0.35, 0.5, 0.2, 0.65, 0.8]) {
        const at = points[Math.floor(share * (points.length - 1))];
        const box = at && placeLabel(aroundPoint(at, size, [8, 14, 22]), area, obstacles, 3);
        if (!box) continue;
        obstacles.boxes.push(box);
        return svg`<text x=${box.x} y=${box.y + LINE_PX - 4}>${label}</text>`;
      }
      return nothing;
    });
  }
}

function startMark(at: Point | undefined) {
  if (at === undefined) return nothing;
  const { x, y } = at;
  return svg`<path class="start" d=${`M${x - 5} ${y - 5}L${x + 5} ${y + 5}M${x + 5} ${y - 5}L${x - 5} ${y + 5}`}></path>`;
}

declare global {
  interface HTMLElementTagNameMap {
    'tracks-view': TracksView;
  }
}
