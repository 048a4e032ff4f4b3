// Everything the plan view draws, in pixels: runway, airfield, track, marks and the labels that fit between them.
import type { Runway, Score, Trace } from '@stillprop/contracts';
import { figure } from './figures.js';
import type { Ghost } from './ghost.js';
import { type Box, type Line, type Point, type Size, thinned } from './labelPlacement.js';
import { type FeetBounds, type PlanFrame, planFrame, unbrokenPieces } from './planFrame.js';
import { type PlanLabel, planLabels } from './planLabels.js';
import type { Reach } from './reach.js';
import { nearestIndex } from './traceAt.js';

const TICK_EVERY_S = 10;
/** Points of a track stand no closer than this on the plan (px): nobody sees more. */
const TRACK_STEP_PX = 0.5;
/** Between the points of the reach's outline on the plan (px), so that a label finds its place along it. */
const OUTLINE_STEP_PX = 12;

export interface PlanMark {
  readonly kind: 'power-lost' | 'turn-start' | 'touchdown';
  readonly at: Point;
  readonly text: string;
}
export interface PlanLayout {
  readonly frame: PlanFrame;
  readonly airfield: Box;
  readonly runway: Box;
  /** Flown before and after power was lost. */
  readonly before: readonly Line[];
  readonly after: readonly Line[];
  /** Flown as asked by the model; empty: not drawn. */
  readonly ghost: Line;
  /** Outline of the ground within reach, closed, going beyond the plan's edge; empty: not drawn. */
  readonly reach: Line;
  /** Every ten seconds from the loss of power. */
  readonly ticks: readonly Point[];
  readonly marks: readonly PlanMark[];
  readonly labels: readonly PlanLabel[];
}

export interface PlanInput {
  readonly trace: Trace;
  readonly score: Pick<Score, 'failure' | 'events' | 'phases'>;
  readonly runway: Runway;
  readonly area: Box;
  /** Size of a text as it will be drawn (px). */
  readonly measure: (text: string) => Size;
  readonly ghost: Ghost | null;
  readonly reach: Reach | null;
}

/**
 * The plan holds the runway, the flight and the ghost; the ground within reach is larger and only shown where it lies
 * on the plan. null when no sample has a place.
 */
export function planLayout({ trace, score, runway, area, measure, ghost, reach }: PlanInput): PlanLayout | null {
  const liftOffS = score.events.find(({ code }) => code === 'lift-off')?.atS ?? Number.NEGATIVE_INFINITY;
  const first = trace.timeS.findIndex((timeS) => timeS >= liftOffS);
  const shown = trace.timeS.map((_, i) => i).filter((i) => i >= first && placeOf(trace, i) !== null);
  if (shown.length === 0) return null;
  const { airfield } = runway;
  const frame = planFrame(withGhost(boundsOf(trace, shown, runway), ghost), area);
  const corner = (along: number, across: number) => frame.toPx(along, across);
  const fieldFrom = corner(-airfield.beyondEndFt, -airfield.besideFt);
  const fieldTo = corner(runway.lengthFt + airfield.beyondEndFt, airfield.besideFt);
  const halfWidthPx = Math.max((runway.widthFt / 2) * frame.pxPerFt, 2);
  const start = frame.toPx(0, 0);
  const end = frame.toPx(runway.lengthFt, 0);
  const runwayBox: Box = { x: start.x, y: start.y - halfWidthPx, width: end.x - start.x, height: 2 * halfWidthPx };

  const px = (i: number): Point | null => {
    const place = placeOf(trace, i);
    return place && frame.toPx(place.alongFt, place.acrossFt);
  };
  const lostS = score.failure?.atS ?? Number.POSITIVE_INFINITY;
  const indexes = trace.timeS.map((_, i) => i).filter((i) => i >= first);
  const lostIndex = indexes.find((i) => (trace.timeS[i] as number) >= lostS) ?? Number.POSITIVE_INFINITY;
  const pieces = (those: readonly number[]) =>
    unbrokenPieces(those.map(px)).map((line) => thinned(line, TRACK_STEP_PX));
  const before = pieces(indexes.filter((i) => i <= lostIndex));
  const after = pieces(indexes.filter((i) => i >= lostIndex));
  const pxAt = (atS: number) => px(nearestIndex(trace.timeS, atS));

  const marks = marksOf(score, pxAt);
  const ghostLine = (ghost?.alongFt ?? []).map((alongFt, i) => frame.toPx(alongFt, ghost?.acrossFt[i] ?? 0));
  const reachLine = reach === null ? [] : outlinePoints(reach.outline.map((at) => frame.toPx(at.alongFt, at.acrossFt)));
  const labels = planLabels({
    marks,
    ghostLine,
    reachLine,
    runway,
    runwayBox,
    airfieldBox: between(fieldFrom, fieldTo),
    lines: [...before, ...after, ...(ghostLine.length > 1 ? [ghostLine] : []), reachLine].map((line) =>
      thinned(line, 3),
    ),
    area,
    measure,
  });
  return {
    frame,
    airfield: between(fieldFrom, fieldTo),
    runway: runwayBox,
    before,
    after,
    ghost: ghostLine,
    reach: reachLine,
    ticks: tickTimes(lostS, score, trace).flatMap((atS) => pxAt(atS) ?? []),
    marks,
    labels,
  };
}

/** The aeroplane's place at a moment (px); null: not measured then. */
export function planPoint(frame: PlanFrame, trace: Trace, atS: number): Point | null {
  const place = placeOf(trace, nearestIndex(trace.timeS, atS));
  return place && frame.toPx(place.alongFt, place.acrossFt);
}

/** The model may fly where the attempt did not. */
function withGhost(bounds: FeetBounds, ghost: Ghost | null): FeetBounds {
  if (ghost === null) return bounds;
  const least = (values: readonly number[], other: number) => values.reduce((a, b) => Math.min(a, b), other);
  const most = (values: readonly number[], other: number) => values.reduce((a, b) => Math.max(a, b), other);
  return {
    alongFromFt: least(ghost.alongFt, bounds.alongFromFt),
    alongToFt: most(ghost.alongFt, bounds.alongToFt),
    acrossFromFt: least(ghost.acrossFt, bounds.acrossFromFt),
    acrossToFt: most(ghost.acrossFt, bounds.acrossToFt),
  };
}

function placeOf(trace: Trace, index: number): { alongFt: number; acrossFt: number } | null {
  const alongFt = trace.alongFt[index] ?? null;
  const acrossFt = trace.acrossFt[index] ?? null;
  return alongFt === null || acrossFt === null ? null : { alongFt, acrossFt };
}

function boundsOf(trace: Trace, shown: readonly number[], { airfield, lengthFt }: Runway): FeetBounds {
  const bounds = {
    alongFromFt: -airfield.beyondEndFt,
    alongToFt: lengthFt + airfield.beyondEndFt,
    acrossFromFt: -airfield.besideFt,
    acrossToFt: airfield.besideFt,
  };
  for (const i of shown) {
    const place = placeOf(trace, i);
    if (!place) continue;
    bounds.alongFromFt = Math.min(bounds.alongFromFt, place.alongFt);
    bounds.alongToFt = Math.max(bounds.alongToFt, place.alongFt);
    bounds.acrossFromFt = Math.min(bounds.acrossFromFt, place.acrossFt);
    bounds.acrossToFt = Math.max(bounds.acrossToFt, place.acrossFt);
  }
  return bounds;
}

function marksOf(score: Pick<Score, 'failure' | 'events' | 'phases'>, pxAt: (atS: number) => Point | null): PlanMark[] {
  const marks: PlanMark[] = [];
  const add = (kind: PlanMark['kind'], atS: number | undefined, text: string) => {
    const at = atS === undefined ? null : pxAt(atS);
    if (at) marks.push({ kind, at, text });
  };
  const turnS = score.phases.find(({ name }) => name === 'turn')?.fromS;
  add('power-lost', score.failure?.atS, `power lost at ${figure(score.failure?.heightFt, 'ft')}`);
  add('touchdown', score.events.find(({ code }) => code === 'contact')?.atS, 'touchdown');
  add('turn-start', turnS, 'turn begins');
  return marks;
}

function tickTimes(lostS: number, score: Pick<Score, 'events'>, trace: Trace): number[] {
  if (!Number.isFinite(lostS)) return [];
  const endS = score.events.find(({ code }) => code === 'contact')?.atS ?? trace.timeS.at(-1) ?? lostS;
  const count = Math.max(0, Math.floor((endS - lostS) / TICK_EVERY_S));
  return Array.from({ length: count }, (_, i) => lostS + (i + 1) * TICK_EVERY_S);
}

/** A closed line through the corners with points close enough to each other. */
function outlinePoints(corners: readonly Point[]): Point[] {
  return corners.flatMap((from, i) => {
    const to = corners[(i + 1) % corners.length] as Point;
    const pieces = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / OUTLINE_STEP_PX));
    const last = i === corners.length - 1 ? 1 : 0; // closes the line
    return Array.from({ length: pieces + last }, (_, k) => ({
      x: from.x + ((to.x - from.x) * k) / pieces,
      y: from.y + ((to.y - from.y) * k) / pieces,
    }));
  });
}

function between(a: Point, b: Point): Box {
  return { x: Math.min(a.x, b.x), y: Math.min(a.y, b.y), width: Math.abs(a.x - b.x), height: Math.abs(a.y - b.y) };
}
