// The plan's frame: runway coordinates in feet to pixels, take-off to the right, to scale; directions; round lengths.
import type { Box, Point } from './labelPlacement.js';

export interface FeetBounds {
  readonly alongFromFt: number;
  readonly alongToFt: number;
  readonly acrossFromFt: number;
  readonly acrossToFt: number;
}

export interface PlanFrame {
  readonly pxPerFt: number;
  /** Take-off direction to the right, right of it downwards: as seen from above. */
  toPx(alongFt: number, acrossFt: number): Point;
}

/** The largest frame to scale that holds the bounds inside the area (px), centred. */
export function planFrame(bounds: FeetBounds, area: Box): PlanFrame {
  const alongFt = Math.max(bounds.alongToFt - bounds.alongFromFt, 1);
  const acrossFt = Math.max(bounds.acrossToFt - bounds.acrossFromFt, 1);
  const pxPerFt = Math.min(area.width / alongFt, area.height / acrossFt);
  const x0 = area.x + (area.width - alongFt * pxPerFt) / 2;
  const y0 = area.y + (area.height - acrossFt * pxPerFt) / 2;
  return {
    pxPerFt,
    toPx: (along, across) => ({
      x: x0 + (along - bounds.alongFromFt) * pxPerFt,
      y: y0 + (across - bounds.acrossFromFt) * pxPerFt,
    }),
  };
}

/**
 * Unit vector on the plan of a true direction: take-off points right (+x), 90° to its right points down (+y).
 * @param towardsTrueDeg Direction pointed to, degrees true. For a wind, the opposite of where it comes from.
 */
export function planDirection(towardsTrueDeg: number, runwayHeadingTrueDeg: number): Point {
  const angleRad = ((towardsTrueDeg - runwayHeadingTrueDeg) * Math.PI) / 180;
  return { x: Math.cos(angleRad), y: Math.sin(angleRad) };
}

/** The largest 1, 2 or 5 times a power of ten that is not above a length. */
export function roundLength(most: number): number {
  const power = 10 ** Math.floor(Math.log10(most));
  const step = [5, 2, 1].find((factor) => factor * power <= most) ?? 1;
  return step * power;
}

/**
 * The number at the other end of a runway: half a circle away, left and right exchanged.
 * null when the name is no runway number (01 to 36, with or without L, C or R).
 */
export function otherEndName(name: string): string | null {
  const match = /^\s*(\d{1,2})\s*([LCR]?)\s*$/i.exec(name);
  const number = Number(match?.[1]);
  if (!match || number < 1 || number > 36) return null;
  const side = { L: 'R', R: 'L', C: 'C', '': '' }[(match[2] ?? '').toUpperCase()] ?? '';
  return `${String(((number + 17) % 36) + 1).padStart(2, '0')}${side}`;
}

/** A line broken where its points are missing, each piece with at least two points. */
export function unbrokenPieces(points: readonly (Point | null)[]): Point[][] {
  const pieces: Point[][] = [];
  let piece: Point[] = [];
  for (const point of [...points, null]) {
    if (point) piece.push(point);
    else {
      if (piece.length > 1) pieces.push(piece);
      piece = [];
    }
  }
  return pieces;
}

/** `M x y L …` with tenths of pixels. */
export function svgPath(points: readonly Point[]): string {
  return points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}
