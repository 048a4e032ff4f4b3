// Labels in one row above the charts: phase names over their bands, event names beside their marks.

/** From the middle of a mark to its name. */
const MARK_TO_NAME_PX = 8;
/** How far the middle of a name may lie beside its stretch. */
const SLACK_PX = 3;

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
 * Names over their stretches, each as near to the middle of its own as its neighbours allow. A name that would have to
 * leave its stretch is left out, the one over the shortest stretch first. `reach` (px) is how far a name may hang over
 * the left end.
 */
export function stretchLabels(stretches: readonly Stretch[], areaWidth: number, gap: number, reach = 0): RowLabel[] {
  const kept = [...stretches].sort((a, b) => a.fromX + a.toX - (b.fromX + b.toX));
  for (;;) {
    const placed = apart(kept, areaWidth, gap, reach);
    const astray = kept.filter((stretch, i) => isAstray(stretch, placed[i] as RowLabel, areaWidth, reach));
    if (astray.length === 0) return placed;
    const shortest = astray.reduce((least, one) => (one.toX - one.fromX < least.toX - least.fromX ? one : least));
    kept.splice(kept.indexOf(shortest), 1);
  }
}

/** Nobody can tell whose a name is when its middle is not over its own stretch. */
function isAstray({ fromX, toX }: Stretch, { x, width }: RowLabel, areaWidth: number, reach: number): boolean {
  const middle = x + width / 2;
  return middle < fromX - SLACK_PX || middle > toX + SLACK_PX || x < -reach - 0.5 || x + width > areaWidth + 0.5;
}

/** Names pushed apart: those that touch form a block, which moves as one to the mean of what its names want. */
function apart(stretches: readonly Stretch[], areaWidth: number, gap: number, reach: number): RowLabel[] {
  const blocks: { from: number; count: number; x: number; width: number; wanted: number }[] = [];
  stretches.forEach(({ fromX, toX, width }, i) => {
    let block = { from: i, count: 1, x: 0, width, wanted: (fromX + toX) / 2 - width / 2 };
    const settle = () => {
      block.x = Math.max(-reach, Math.min(block.wanted / block.count, areaWidth - block.width));
    };
    settle();
    for (let last = blocks.at(-1); last && last.x + last.width + gap > block.x; last = blocks.at(-1)) {
      blocks.pop();
      // Where the block's left edge would be if each of its names had its way, summed.
      const wanted = last.wanted + block.wanted - block.count * (last.width + gap);
      block = { from: last.from, count: last.count + block.count, x: 0, width: last.width + gap + block.width, wanted };
      settle();
    }
    blocks.push(block);
  });
  return blocks.flatMap(({ from, count, x }) => {
    let left = x;
    return stretches.slice(from, from + count).map(({ text, width }) => {
      const label = { text, x: left, width };
      left += width + gap;
      return label;
    });
  });
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
 * room, else to the left, else the mark alone. `reach` (px) is how far a name may hang over each end.
 */
export function markLabels(
  marks: readonly Mark[],
  areaWidth: number,
  gap: number,
  reach = { left: 0, right: 0 },
): MarkLabel[] {
  const placed: MarkLabel[] = [];
  const half = MARK_TO_NAME_PX;
  for (const { text, x, width } of marks) {
    const right = { x: x + half, side: 'right' as const };
    const left = { x: x - half - width, side: 'left' as const };
    const fits = (at: number) =>
      at >= -reach.left &&
      at + width <= areaWidth + reach.right &&
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
