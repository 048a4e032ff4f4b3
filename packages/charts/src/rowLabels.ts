// Labels in one row above the charts: phase names over their bands, event names beside their marks.

export interface RowLabel {
  readonly text: string;
  /** Left edge (px). */
  readonly x: number;
  readonly width: number;
}

/** A stretch of the row with its name. */
export interface Stretch {
  readonly text: string;
  readonly fromX: number;
  readonly toX: number;
  readonly width: number;
}

/**
 * Names centred over their stretches. A name wider than its stretch may reach into the room its neighbours leave;
 * the narrowest stretches give way first, and a name that finds no room is left out.
 */
export function stretchLabels(stretches: readonly Stretch[], areaWidth: number, gap: number): RowLabel[] {
  const placed: RowLabel[] = [];
  const byRoom = [...stretches].sort((a, b) => b.toX - b.fromX - b.width - (a.toX - a.fromX - a.width));
  for (const { text, fromX, toX, width } of byRoom) {
    const middle = (fromX + toX) / 2;
    const x = Math.min(Math.max(middle - width / 2, 0), areaWidth - width);
    // A name has to stay over its own stretch, or nobody can tell whose it is.
    const astray = Math.abs(x + width / 2 - middle) > (toX - fromX) / 2;
    if (x < 0 || astray || placed.some((other) => tooClose(other, x, width, gap))) continue;
    placed.push({ text, x, width });
  }
  return placed.sort((a, b) => a.x - b.x);
}

export interface Mark {
  readonly text: string;
  readonly x: number;
  /** Of the text (px). */
  readonly width: number;
}
export interface MarkLabel extends RowLabel {
  readonly markX: number;
  /** null: only the mark is drawn. */
  readonly side: 'left' | 'right' | null;
}

/**
 * Event names beside their marks, in the order given (the first is the most important): to the right if there is
 * room, else to the left, else the mark alone. `reach` (px) is how far a name may hang over either end.
 */
export function markLabels(marks: readonly Mark[], areaWidth: number, gap: number, reach = 0): MarkLabel[] {
  const placed: MarkLabel[] = [];
  const half = gap;
  for (const { text, x, width } of marks) {
    const right = { x: x + half, side: 'right' as const };
    const left = { x: x - half - width, side: 'left' as const };
    const fits = (at: number) =>
      at >= -reach &&
      at + width <= areaWidth + reach &&
      !placed.some((other) => other.side !== null && tooClose(other, at, width, gap)) &&
      !marks.some((mark) => mark.x !== x && mark.x > at - half && mark.x < at + width + half);
    const found = [right, left].find((choice) => fits(choice.x));
    placed.push({ text, width, markX: x, x: found?.x ?? x, side: found?.side ?? null });
  }
  return placed;
}

function tooClose(other: RowLabel, x: number, width: number, gap: number): boolean {
  return x < other.x + other.width + gap && other.x < x + width + gap;
}
