// Where a label may stand: inside its area, clear of the lines, the other labels and the marks.

export interface Point {
  readonly x: number;
  readonly y: number;
}
export interface Size {
  readonly width: number;
  readonly height: number;
}
/** A rectangle by its upper left corner; y grows downwards. */
export interface Box extends Point, Size {}
export type Line = readonly Point[];

/** What a label has to keep away from. */
export interface Obstacles {
  readonly lines: readonly Line[];
  readonly boxes: readonly Box[];
}

/**
 * The first of the candidates that lies in the area and keeps the gap (px) to all obstacles; if none does, the one
 * with most room that touches nothing; null when every candidate would cover something.
 */
export function placeLabel<T extends Box>(
  candidates: readonly T[],
  area: Box,
  obstacles: Obstacles,
  gap: number,
): T | null {
  let best: T | null = null;
  let bestRoom = 0;
  for (const candidate of candidates) {
    if (!contains(area, candidate)) continue;
    const room = clearance(candidate, obstacles, gap);
    if (room >= gap) return candidate;
    if (room > bestRoom) {
      best = candidate;
      bestRoom = room;
    }
  }
  return best;
}

/** Distance (px) from a box to the nearest obstacle, at most `enough`; 0 when it touches one. */
export function clearance(box: Box, { lines, boxes }: Obstacles, enough = Number.POSITIVE_INFINITY): number {
  let room = enough;
  for (const other of boxes) {
    room = Math.min(room, boxDistance(box, other));
    if (room === 0) return 0;
  }
  for (const line of lines) {
    for (let i = 1; i < line.length; i++) {
      room = Math.min(room, segmentDistance(box, line[i - 1] as Point, line[i] as Point, room));
      if (room === 0) return 0;
    }
  }
  return room;
}

/** Boxes around a point, nearest first: beside, above, below, then the corners, at each distance in turn. */
export function aroundPoint(at: Point, { width, height }: Size, distances: readonly number[]): Box[] {
  return distances.flatMap((distance) => {
    const right = at.x + distance;
    const left = at.x - distance - width;
    const above = at.y - distance - height;
    const below = at.y + distance;
    const middleX = at.x - width / 2;
    const middleY = at.y - height / 2;
    return [
      { x: middleX, y: above },
      { x: middleX, y: below },
      { x: right, y: middleY },
      { x: left, y: middleY },
      { x: at.x, y: above },
      { x: at.x - width, y: above },
      { x: at.x, y: below },
      { x: at.x - width, y: below },
      { x: right, y: above },
      { x: left, y: above },
      { x: right, y: below },
      { x: left, y: below },
    ].map((corner) => ({ ...corner, width, height }));
  });
}

/** Boxes above and below the points of a line, those in its middle first. */
export function alongLine(line: Line, { width, height }: Size, offsets: readonly number[]): Box[] {
  const count = 24;
  const middle = 0.5;
  const shares = Array.from({ length: count }, (_, i) => (i + 0.5) / count).sort(
    (a, b) => Math.abs(a - middle) - Math.abs(b - middle),
  );
  return offsets.flatMap((offset) =>
    shares.flatMap((share) => {
      const at = line[Math.floor(share * line.length)];
      if (at === undefined) return [];
      const x = at.x - width / 2;
      return [
        { x, y: at.y - offset - height, width, height },
        { x, y: at.y + offset, width, height },
      ];
    }),
  );
}

/** A line with no two neighbours closer than `step` px: enough for keeping labels off it. */
export function thinned(line: Line, step: number): Point[] {
  const kept: Point[] = [];
  for (const point of line) {
    const last = kept.at(-1);
    if (last === undefined || Math.hypot(point.x - last.x, point.y - last.y) >= step) kept.push(point);
  }
  const end = line.at(-1);
  if (end !== undefined && kept.at(-1) !== end) kept.push(end);
  return kept;
}

export function contains(area: Box, box: Box): boolean {
  return (
    box.x >= area.x &&
    box.y >= area.y &&
    box.x + box.width <= area.x + area.width &&
    box.y + box.height <= area.y + area.height
  );
}

export function boxDistance(a: Box, b: Box): number {
  const dx = Math.max(b.x - (a.x + a.width), a.x - (b.x + b.width), 0);
  const dy = Math.max(b.y - (a.y + a.height), a.y - (b.y + b.height), 0);
  return Math.hypot(dx, dy);
}

/** Distance from a box to a segment; 0 when they meet. Returns early with `known` when the segment is farther than that. */
function segmentDistance(box: Box, a: Point, b: Point, known: number): number {
  const around: Box = {
    x: Math.min(a.x, b.x),
    y: Math.min(a.y, b.y),
    width: Math.abs(a.x - b.x),
    height: Math.abs(a.y - b.y),
  };
  if (boxDistance(box, around) >= known) return known;
  if (crosses(box, a, b)) return 0;
  const corners = [
    { x: box.x, y: box.y },
    { x: box.x + box.width, y: box.y },
    { x: box.x, y: box.y + box.height },
    { x: box.x + box.width, y: box.y + box.height },
  ];
  return Math.min(
    ...corners.map((corner) => pointToSegment(corner, a, b)),
    boxDistance(box, { ...a, width: 0, height: 0 }),
    boxDistance(box, { ...b, width: 0, height: 0 }),
  );
}

/** Whether a segment meets a box: the part of it inside the box's four half-planes is not empty. */
function crosses(box: Box, a: Point, b: Point): boolean {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  let from = 0;
  let to = 1;
  for (const [towards, room] of [
    [-dx, a.x - box.x],
    [dx, box.x + box.width - a.x],
    [-dy, a.y - box.y],
    [dy, box.y + box.height - a.y],
  ] as const) {
    if (towards === 0) {
      if (room < 0) return false;
    } else if (towards < 0) from = Math.max(from, room / towards);
    else to = Math.min(to, room / towards);
  }
  return from <= to;
}

function pointToSegment(p: Point, a: Point, b: Point): number {
  const lengthSquared = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  const share = lengthSquared === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / lengthSquared;
  const t = Math.min(1, Math.max(0, share));
  return Math.hypot(p.x - (a.x + t * (b.x - a.x)), p.y - (a.y + t * (b.y - a.y)));
}
