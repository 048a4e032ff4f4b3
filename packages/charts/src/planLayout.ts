// Everything the plan view draws, in pixels: runway, airfield, track, marks and the labels that fit between them.
import type { Runway, Score, Trace } from '@stillprop/contracts';
import { figure } from './figures.js';
import { GHOST_LABEL, type Ghost } from './ghost.js';
import {
  aroundPoint,
  type Box,
  clearance,
  type Line,
  type Point,
  placeLabel,
  type Size,
  thinned,
} from './labelPlacement.js';
import { type FeetBounds, otherEndName, type PlanFrame, planFrame, unbrokenPieces } from './planFrame.js';
import { nearestIndex } from './traceAt.js';

const TICK_EVERY_S = 10;
const LABEL_GAP_PX = 3;
const LABEL_DISTANCES_PX = [9, 16, 28, 44, 62];
/** A runway's number has no leader, so it stays near its end. */
const NUMBER_DISTANCES_PX = [7, 12, 17];
const LEADER_FROM_PX = 14;
/** Where along the ghost its label may stand. */
const GHOST_LABEL_AT = [0.4, 0.5, 0.3, 0.6, 0.2, 0.7];

export interface PlanMark {
  readonly kind: 'power-lost' | 'turn-start' | 'touchdown';
  readonly at: Point;
  readonly text: string;
}
export interface PlanLabel {
  readonly kind: PlanMark['kind'] | 'runway-start' | 'runway-end' | 'airfield' | 'ghost';
  readonly text: string;
  readonly box: Box;
  /** Line from the mark to a label that had to stand off. */
  readonly leader: readonly [Point, Point] | null;
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
  /** Every ten seconds from the loss of power. */
  readonly ticks: readonly Point[];
  readonly marks: readonly PlanMark[];
  readonly labels: readonly PlanLabel[];
}

/** @param measure Size of a text as it will be drawn (px). Returns null when no sample has a place. */
export function planLayout(
  trace: Trace,
  score: Pick<Score, 'failure' | 'events' | 'phases'>,
  runway: Runway,
  area: Box,
  measure: (text: string) => Size,
  ghost: Ghost | null = null,
): PlanLayout | null {
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
  const before = unbrokenPieces(indexes.filter((i) => i <= lostIndex).map(px));
  const after = unbrokenPieces(indexes.filter((i) => i >= lostIndex).map(px));
  const pxAt = (atS: number) => px(nearestIndex(trace.timeS, atS));

  const marks = marksOf(score, pxAt);
  const ghostLine = (ghost?.alongFt ?? []).map((alongFt, i) => frame.toPx(alongFt, ghost?.acrossFt[i] ?? 0));
  const labels = labelsOf({
    marks,
    ghostLine,
    runway,
    runwayBox,
    airfieldBox: between(fieldFrom, fieldTo),
    lines: [...before, ...after, ...(ghostLine.length > 1 ? [ghostLine] : [])].map((line) => thinned(line, 3)),
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

interface ToLabel {
  readonly marks: readonly PlanMark[];
  readonly ghostLine: Line;
  readonly runway: Runway;
  readonly runwayBox: Box;
  readonly airfieldBox: Box;
  readonly lines: readonly Line[];
  readonly area: Box;
  readonly measure: (text: string) => Size;
}

/** The labels of the order of placing that leaves fewest out, then needs fewest leaders. */
function labelsOf(input: ToLabel): PlanLabel[] {
  let best: PlanLabel[] = [];
  for (const marks of orders(input.marks)) {
    const labels = labelsInOrder({ ...input, marks });
    const leaders = (list: readonly PlanLabel[]) => list.filter(({ leader }) => leader !== null).length;
    const better = labels.length - best.length || leaders(best) - leaders(labels);
    if (better > 0) best = labels;
  }
  return best;
}

function labelsInOrder({
  marks,
  ghostLine,
  runway,
  runwayBox,
  airfieldBox,
  lines,
  area,
  measure,
}: ToLabel): PlanLabel[] {
  const around = grown(area, 10);
  const obstacles = {
    lines: [...lines, outline(airfieldBox)],
    boxes: [runwayBox, ...marks.map(({ at }) => ({ x: at.x - 6, y: at.y - 6, width: 12, height: 12 }))],
  };
  const labels: PlanLabel[] = [];
  const place = (kind: PlanLabel['kind'], text: string, at: Point, candidates: readonly Box[]) => {
    const own = marks.some((mark) => mark.kind === kind);
    const leaderTo = (box: Box): readonly [Point, Point] | null => {
      const near = nearestOn(box, at);
      return own && Math.hypot(near.x - at.x, near.y - at.y) > LEADER_FROM_PX ? [at, near] : null;
    };
    const open = candidates.filter((box) => {
      const leader = leaderTo(box);
      return !leader || labels.every((other) => clearance(other.box, { lines: [leader], boxes: [] }) > 0);
    });
    const box = placeLabel(open, around, obstacles, LABEL_GAP_PX);
    if (!box) return;
    const leader = leaderTo(box);
    obstacles.boxes.push(box);
    if (leader) obstacles.lines.push(leader);
    labels.push({ kind, text, box, leader });
  };
  const middleY = runwayBox.y + runwayBox.height / 2;
  const startAt = { x: runwayBox.x, y: middleY };
  const endAt = { x: runwayBox.x + runwayBox.width, y: middleY };
  const otherEnd = otherEndName(runway.name);
  place('runway-start', runway.name, startAt, besideEnd(startAt, measure(runway.name), -1));
  if (otherEnd) place('runway-end', otherEnd, endAt, besideEnd(endAt, measure(otherEnd), 1));
  for (const { kind, text, at } of marks) place(kind, text, at, aroundPoint(at, measure(text), LABEL_DISTANCES_PX));
  const along =
    ghostLine.length < 2
      ? []
      : GHOST_LABEL_AT.map((share) => ghostLine[Math.floor(share * (ghostLine.length - 1))] as Point);
  const [first] = along;
  if (first)
    place(
      'ghost',
      GHOST_LABEL,
      first,
      along.flatMap((at) => aroundPoint(at, measure(GHOST_LABEL), [8, 14])),
    );
  if (runway.airfieldName) {
    place('airfield', runway.airfieldName, startAt, besideField(airfieldBox, measure(runway.airfieldName)));
  }
  return labels;
}

/** Places of a runway's number: before or behind its end, else below or above it. */
function besideEnd(at: Point, text: Size, towards: -1 | 1): Box[] {
  const inward = towards < 0 ? at.x : at.x - text.width;
  return [
    { x: towards < 0 ? at.x - 6 - text.width : at.x + 6, y: at.y - text.height / 2, ...text },
    { x: inward, y: at.y + 7, ...text },
    { x: inward, y: at.y - 7 - text.height, ...text },
    ...aroundPoint(at, text, NUMBER_DISTANCES_PX),
  ];
}

/** Places of the airfield's name: in its left corners, else above or below it. */
function besideField(field: Box, text: Size): Box[] {
  return [
    { x: field.x + 5, y: field.y + 4, ...text },
    { x: field.x + 5, y: field.y + field.height - text.height - 4, ...text },
    { x: field.x, y: field.y - text.height - 5, ...text },
    { x: field.x, y: field.y + field.height + 5, ...text },
  ];
}

/** A few marks in every order. */
function orders<T>(items: readonly T[]): T[][] {
  if (items.length < 2) return [[...items]];
  return items.flatMap((first, i) => orders(items.filter((_, k) => k !== i)).map((rest) => [first, ...rest]));
}

function between(a: Point, b: Point): Box {
  return { x: Math.min(a.x, b.x), y: Math.min(a.y, b.y), width: Math.abs(a.x - b.x), height: Math.abs(a.y - b.y) };
}

function grown({ x, y, width, height }: Box, by: number): Box {
  return { x: x - by, y: y - by, width: width + 2 * by, height: height + 2 * by };
}

function outline({ x, y, width, height }: Box): Point[] {
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
    { x, y },
  ];
}

function nearestOn(box: Box, at: Point): Point {
  return {
    x: Math.min(Math.max(at.x, box.x), box.x + box.width),
    y: Math.min(Math.max(at.y, box.y), box.y + box.height),
  };
}
