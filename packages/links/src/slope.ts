// The slope of a value over the last seconds, by least squares: a causal filter for samples at uneven times.

/** A slope over less than this share of the window would be noise: an older point is kept while it is needed for that. */
const LEAST_SHARE = 0.5;
/** Older than this many windows, a point tells nothing of now. */
const OLDEST_WINDOWS = 3;
/** Memory of a stream that comes far too fast. */
const MOST_POINTS = 2048;

/**
 * Slope of several values over time, as a straight line fitted to the points of the last `windowS`. The slope is that at
 * the middle of the points: it lags by half of their span, so by half of the window, and more only where samples come
 * less than twice in a window (by half of the time between two).
 *
 * Points at the time of the newest or shortly before it (doubled or late ones) are left out; a time that went back by
 * more than the window starts anew.
 */
export class Slope {
  #points: { readonly timeS: number; readonly values: readonly number[] }[] = [];

  constructor(private readonly windowS: number) {}

  /** Takes a point. @returns false: its time is no newer than that of the point before, and it was left out. */
  add(timeS: number, values: readonly number[]): boolean {
    const last = this.#points.at(-1);
    if (last !== undefined && timeS <= last.timeS) {
      if (last.timeS - timeS <= this.windowS) return false;
      this.#points = [];
    }
    const points = this.#points;
    points.push({ timeS, values });
    let drop = 0;
    while (drop < points.length - 1) {
      const ageS = timeS - (points[drop]?.timeS ?? timeS);
      const leftS = timeS - (points[drop + 1]?.timeS ?? timeS);
      const needed = leftS < LEAST_SHARE * this.windowS && ageS <= OLDEST_WINDOWS * this.windowS;
      if ((ageS <= this.windowS || needed) && points.length - drop <= MOST_POINTS) break;
      drop += 1;
    }
    if (drop > 0) points.splice(0, drop);
    return true;
  }

  /** The newest point that was taken. */
  get newest(): readonly number[] | null {
    return this.#points.at(-1)?.values ?? null;
  }

  /** Slope of each value (its unit per second); null: too little was seen. */
  get perSecond(): number[] | null {
    const points = this.#points;
    const first = points[0];
    const last = points.at(-1);
    if (first === undefined || last === undefined || last.timeS - first.timeS < LEAST_SHARE * this.windowS) return null;
    const meanS = points.reduce((sum, { timeS }) => sum + (timeS - first.timeS), 0) / points.length;
    let spread = 0;
    const along = first.values.map(() => 0);
    for (const { timeS, values } of points) {
      const fromMean = timeS - first.timeS - meanS;
      spread += fromMean * fromMean;
      for (const [index, value] of values.entries()) {
        along[index] = (along[index] ?? 0) + fromMean * (value - (first.values[index] ?? 0));
      }
    }
    return along.map((sum) => sum / spread);
  }
}
