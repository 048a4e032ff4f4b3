// Windows of a glide: how its stretches are cut into spans whose means are fitted.
import type { GlideColumns } from './glideColumns.js';
import type { Segment } from './glideSegments.js';

/** Length of a window (s); longer where the glide is, so that there are at most about this many. */
const WINDOW_S = 1;
const MOST_WINDOWS = 120;

/** What a window has beside the means of its samples. */
export interface Windowed {
  readonly segment: number;
  readonly midS: number;
}

/**
 * Means of a window's samples.
 *
 * @param valuesOf Numbers of each sample of a stretch, in order; `first` tells where one begins.
 */
export function windowMeans(
  { timeS }: GlideColumns,
  segments: readonly Segment[],
  valuesOf: (segment: Segment) => (i: number) => readonly number[],
): (Windowed & { readonly means: readonly number[] })[] {
  const spanOf = ({ first, last }: Segment) => (timeS[last] as number) - (timeS[first] as number);
  const totalS = segments.reduce((sum, segment) => sum + spanOf(segment), 0);
  const lengthS = Math.max(WINDOW_S, totalS / MOST_WINDOWS);
  return segments.flatMap((segment, index) => {
    const count = Math.max(Math.floor(spanOf(segment) / lengthS), 1);
    const values = valuesOf(segment);
    const sums = Array.from({ length: count }, () => ({ n: 0, t: 0, sums: [] as number[] }));
    for (let i = segment.first; i <= segment.last; i++) {
      const sinceS = (timeS[i] as number) - (timeS[segment.first] as number);
      const sum = sums[Math.min(Math.floor((sinceS / spanOf(segment)) * count), count - 1)];
      if (sum === undefined) continue;
      sum.n++;
      sum.t += timeS[i] as number;
      values(i).forEach((value, k) => {
        sum.sums[k] = (sum.sums[k] ?? 0) + value;
      });
    }
    return sums
      .filter(({ n }) => n > 0)
      .map(({ n, t, sums: of }) => ({ segment: index, midS: t / n, means: of.map((value) => value / n) }));
  });
}
