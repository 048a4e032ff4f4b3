// Labels of the plan view, placed between runway, tracks and marks where they cover nothing.
import type { Runway } from '@stillprop/contracts';
import { GHOST_LABEL } from './ghost.js';
import {
  aroundPoint,
  type Box,
  clearance,
  contains,
  type Line,
  type Point,
  placeLabel,
  type Size,
} from './labelPlacement.js';
import { otherEndName } from './planFrame.js';
import type { PlanMark } from './planLayout.js';
import { REACH_LABEL } from './reach.js';

const LABEL_GAP_PX = 3;
const LABEL_DISTANCES_PX = [9, 16, 28, 44, 62];
/** A runway's number has no leader, so it stays near its end. */
const NUMBER_DISTANCES_PX = [7, 12, 17];
const LEADER_FROM_PX = 14;
/** Where along the ghost its label may stand. */
const GHOST_LABEL_AT = [0.4, 0.5, 0.3, 0.6, 0.2, 0.7];

export interface PlanLabel {
  readonly kind: PlanMark['kind'] | 'runway-start' | 'runway-end' | 'airfield' | 'ghost' | 'reach';
  readonly text: string;
  readonly box: Box;
  /** Line from the mark to a label that had to stand off. */
  readonly leader: readonly [Point, Point] | null;
}

export interface ToLabel {
  readonly marks: readonly PlanMark[];
  readonly ghostLine: Line;
  /** Closed; only part of it may lie on the plan. */
  readonly reachLine: Line;
  readonly runway: Runway;
  readonly runwayBox: Box;
  readonly airfieldBox: Box;
  readonly lines: readonly Line[];
  readonly area: Box;
  readonly measure: (text: string) => Size;
}

/** The labels of the order of placing that leaves fewest out, then needs fewest leaders. */
export function planLabels(input: ToLabel): PlanLabel[] {
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
  reachLine,
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
  const onPlan = reachLine.filter((point) => contains(area, { ...point, width: 0, height: 0 }));
  const [seen] = onPlan;
  if (seen) {
    const size = measure(REACH_LABEL);
    place(
      'reach',
      REACH_LABEL,
      seen,
      // On its own side of the line, so that nobody reads it the wrong way round.
      onPlan.flatMap((at) => aroundPoint(at, size, [6, 12])).filter((box) => encloses(reachLine, middleOf(box))),
    );
  }
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

function middleOf({ x, y, width, height }: Box): Point {
  return { x: x + width / 2, y: y + height / 2 };
}

/** Whether a point lies inside a closed line: a ray from it crosses the line an odd number of times. */
function encloses(closed: Line, { x, y }: Point): boolean {
  let inside = false;
  for (let i = 1; i < closed.length; i++) {
    const [a, b] = [closed[i - 1] as Point, closed[i] as Point];
    if (a.y > y !== b.y > y && x < a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y)) inside = !inside;
  }
  return inside;
}

function nearestOn(box: Box, at: Point): Point {
  return {
    x: Math.min(Math.max(at.x, box.x), box.x + box.width),
    y: Math.min(Math.max(at.y, box.y), box.y + box.height),
  };
}
