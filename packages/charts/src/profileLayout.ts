// Everything the profile view draws, in pixels: height against distance along the runway, with marks and their labels.
import type { Runway, Score, Trace } from '@stillprop/contracts';
import { figure } from './figures.js';
import type { Ghost } from './ghost.js';
import { aroundPoint, type Box, type Line, type Point, placeLabel, type Size, thinned } from './labelPlacement.js';
import { roundLength, unbrokenPieces } from './planFrame.js';
import { nearestIndex } from './traceAt.js';

/** Heights are drawn so many times as tall as distances are long: the most that fits. */
const EXAGGERATIONS = [10, 5, 4, 3, 2, 1];
/** Points of a track stand no closer than this (px): nobody sees more. */
const TRACK_STEP_PX = 0.5;
const LABEL_DISTANCES_PX = [8, 14, 24, 40];
const LABEL_GAP_PX = 3;
const LEADER_FROM_PX = 14;

export interface ProfileMark {
  readonly kind: 'power-lost' | 'first-action' | 'touchdown';
  readonly at: Point;
  readonly text: string;
}

export interface ProfileLayout {
  /** How many times as tall as distances are long. */
  readonly exaggeration: number;
  toPx(alongFt: number, heightFt: number): Point;
  /** Ground, airfield and runway, left to right. */
  readonly ground: readonly [Point, Point];
  readonly airfield: readonly [Point, Point];
  readonly runway: readonly [Point, Point];
  readonly before: readonly Line[];
  readonly after: readonly Line[];
  /** Flown as asked by the model; empty: not drawn. */
  readonly ghost: Line;
  readonly heights: readonly { readonly y: number; readonly text: string }[];
  readonly marks: readonly ProfileMark[];
  readonly labels: readonly ProfileLabel[];
}

export interface ProfileLabel {
  readonly text: string;
  readonly box: Box;
  /** Line from the mark to a label that had to stand off. */
  readonly leader: readonly [Point, Point] | null;
}

/** @param measure Size of a text as it will be drawn (px). Returns null when no sample has a place. */
export function profileLayout(
  trace: Trace,
  score: Pick<Score, 'failure' | 'events'>,
  runway: Runway,
  area: Box,
  measure: (text: string) => Size,
  ghost: Ghost | null = null,
): ProfileLayout | null {
  const eventS = (code: string) => score.events.find((event) => event.code === code)?.atS;
  const liftOffS = eventS('lift-off') ?? Number.NEGATIVE_INFINITY;
  const lostS = score.failure?.atS ?? Number.POSITIVE_INFINITY;
  const shown = trace.timeS.map((_, i) => i).filter((i) => (trace.timeS[i] as number) >= liftOffS && placeOf(trace, i));
  if (shown.length === 0) return null;
  const { beyondEndFt } = runway.airfield;
  const alongs = [...shown.map((i) => placeOf(trace, i)?.alongFt ?? 0), ...(ghost?.alongFt ?? [])];
  const fromFt = alongs.reduce((a, b) => Math.min(a, b), -beyondEndFt);
  const toFt = alongs.reduce((a, b) => Math.max(a, b), runway.lengthFt + beyondEndFt);
  const heightsFt = [...shown.map((i) => placeOf(trace, i)?.heightFt ?? 0), ...(ghost?.heightFt ?? [])];
  const topFt = heightsFt.reduce((most, heightFt) => Math.max(most, heightFt), 100);
  const pxPerFt = area.width / Math.max(toFt - fromFt, 1);
  const exaggeration = EXAGGERATIONS.find((times) => topFt * pxPerFt * times <= area.height) ?? 1;
  const groundY = area.y + area.height;
  const toPx = (alongFt: number, heightFt: number): Point => ({
    x: area.x + (alongFt - fromFt) * pxPerFt,
    y: groundY - heightFt * Math.min(pxPerFt * exaggeration, area.height / topFt),
  });
  const px = (i: number): Point | null => {
    const place = placeOf(trace, i);
    return place && toPx(place.alongFt, place.heightFt);
  };
  const pieces = (those: readonly number[]) =>
    unbrokenPieces(those.map(px)).map((line) => thinned(line, TRACK_STEP_PX));
  const after = pieces(shown.filter((i) => (trace.timeS[i] as number) >= lostS));
  const before = pieces(shown.filter((i) => (trace.timeS[i] as number) <= lostS));
  const marks: ProfileMark[] = [];
  const add = (kind: ProfileMark['kind'], atS: number | undefined, text: string) => {
    const at = atS === undefined ? null : px(nearestIndex(trace.timeS, atS));
    if (at) marks.push({ kind, at, text });
  };
  add('power-lost', score.failure?.atS, `power lost at ${figure(score.failure?.heightFt, 'ft')}`);
  add('touchdown', eventS('contact'), 'touchdown');
  add('first-action', eventS('first-action'), 'first action');
  const stepFt = roundLength(topFt / 2);
  const heights = Array.from({ length: Math.floor(topFt / stepFt) }, (_, i) => (i + 1) * stepFt).map((heightFt) => ({
    y: toPx(fromFt, heightFt).y,
    text: figure(heightFt, 'ft'),
  }));
  return {
    exaggeration,
    toPx,
    ground: [toPx(fromFt, 0), toPx(toFt, 0)],
    airfield: [toPx(-beyondEndFt, 0), toPx(runway.lengthFt + beyondEndFt, 0)],
    runway: [toPx(0, 0), toPx(runway.lengthFt, 0)],
    before,
    after,
    ghost: (ghost?.alongFt ?? []).map((alongFt, i) => toPx(alongFt, ghost?.heightFt[i] ?? 0)),
    heights,
    marks,
    labels: labelsOf(marks, after, area, measure),
  };
}

/** The aeroplane's place at a moment (px); null: not measured then. */
export function profilePoint({ toPx }: ProfileLayout, trace: Trace, atS: number): Point | null {
  const place = placeOf(trace, nearestIndex(trace.timeS, atS));
  return place && toPx(place.alongFt, place.heightFt);
}

function placeOf(trace: Trace, index: number): { alongFt: number; heightFt: number } | null {
  const alongFt = trace.alongFt[index] ?? null;
  const heightFt = trace.heightFt[index] ?? null;
  return alongFt === null || heightFt === null ? null : { alongFt, heightFt };
}

function labelsOf(
  marks: readonly ProfileMark[],
  lines: readonly Line[],
  area: Box,
  measure: (text: string) => Size,
): ProfileLabel[] {
  const around = { x: area.x - 20, y: area.y - 18, width: area.width + 40, height: area.height + 36 };
  const obstacles = {
    lines: lines.map((line) => thinned(line, 3)),
    boxes: marks.map(({ at }) => ({ x: at.x - 6, y: at.y - 6, width: 12, height: 12 })),
  };
  return marks.flatMap(({ text, at }) => {
    const box = placeLabel(aroundPoint(at, measure(text), LABEL_DISTANCES_PX), around, obstacles, LABEL_GAP_PX);
    if (!box) return [];
    obstacles.boxes.push(box);
    const near = {
      x: Math.min(Math.max(at.x, box.x), box.x + box.width),
      y: Math.min(Math.max(at.y, box.y), box.y + box.height),
    };
    const isFar = Math.hypot(near.x - at.x, near.y - at.y) > LEADER_FROM_PX;
    return [{ text, box, leader: isFar ? [at, near] : null }];
  });
}
