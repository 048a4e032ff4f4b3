// Plane polygons: inside or not, how far from the edge, and how much of one lies in another.

export interface Point {
  readonly alongFt: number;
  readonly acrossFt: number;
}

/** Points of a side of the grid that a share is counted on. */
const GRID = 40;

/** True inside a polygon, by the even-odd rule; any shape, closed by itself. */
export function isInside(polygon: readonly Point[], point: Point): boolean {
  let inside = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const a = polygon[i] as Point;
    const b = polygon[j] as Point;
    if (a.acrossFt > point.acrossFt === b.acrossFt > point.acrossFt) continue;
    const at = a.alongFt + ((point.acrossFt - a.acrossFt) * (b.alongFt - a.alongFt)) / (b.acrossFt - a.acrossFt);
    if (point.alongFt < at) inside = !inside;
  }
  return inside;
}

/** Distance from a point to the nearest edge of a polygon (ft), inside or out. */
export function distanceToEdgeFt(polygon: readonly Point[], point: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const a = polygon[j] as Point;
    const b = polygon[i] as Point;
    const dx = b.alongFt - a.alongFt;
    const dy = b.acrossFt - a.acrossFt;
    const length = dx * dx + dy * dy;
    const share =
      length === 0
        ? 0
        : Math.min(Math.max(((point.alongFt - a.alongFt) * dx + (point.acrossFt - a.acrossFt) * dy) / length, 0), 1);
    least = Math.min(
      least,
      Math.hypot(point.alongFt - a.alongFt - share * dx, point.acrossFt - a.acrossFt - share * dy),
    );
  }
  return least;
}

/** Area (ft²) of a polygon that does not cross itself (shoelace formula). */
export function areaFt2(polygon: readonly Point[]): number {
  let twice = 0;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const a = polygon[j] as Point;
    const b = polygon[i] as Point;
    twice += a.alongFt * b.acrossFt - b.alongFt * a.acrossFt;
  }
  return Math.abs(twice) / 2;
}

/** Middle of a polygon: the mean of the points of a grid that lie inside it, and those points themselves. */
export function innerPoints(polygon: readonly Point[]): Point[] {
  const along = polygon.map((point) => point.alongFt);
  const across = polygon.map((point) => point.acrossFt);
  const [lowX, highX] = [Math.min(...along), Math.max(...along)];
  const [lowY, highY] = [Math.min(...across), Math.max(...across)];
  const points: Point[] = [];
  for (let i = 0; i < GRID; i++)
    for (let k = 0; k < GRID; k++) {
      const point = {
        alongFt: lowX + ((i + 0.5) / GRID) * (highX - lowX),
        acrossFt: lowY + ((k + 0.5) / GRID) * (highY - lowY),
      };
      if (isInside(polygon, point)) points.push(point);
    }
  return points;
}
