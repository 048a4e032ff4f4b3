// Reading a measured column between its samples: values, means, slopes, smoothing and crossings against time.

/** Index of the last sample at or before a time; -1 when there is none. `timeS` ascends strictly. */
export function indexAt(timeS: Float64Array, atS: number): number {
  let low = 0;
  let high = timeS.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((timeS[middle] as number) <= atS) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** Value at a time, linear between samples, the end values beyond the ends; NaN only for an empty column. */
export function valueAt(timeS: Float64Array, column: Float64Array, atS: number): number {
  const before = indexAt(timeS, atS);
  if (before < 0) return column[0] ?? Number.NaN;
  const y0 = column[before] as number;
  if (before + 1 >= timeS.length) return y0;
  const t0 = timeS[before] as number;
  const share = (atS - t0) / ((timeS[before + 1] as number) - t0);
  return y0 + share * ((column[before + 1] as number) - y0);
}

/** First and last sample inside a span of time, both ends included; null when none is. */
export function samplesWithin(timeS: Float64Array, fromS: number, toS: number): { first: number; last: number } | null {
  const last = indexAt(timeS, toS);
  let first = indexAt(timeS, fromS);
  if (first < 0 || (timeS[first] as number) < fromS) first++;
  return first <= last ? { first, last } : null;
}

/** Straight line fitted to the samples of a span by least squares; null with fewer than two, or with no time between them. */
export interface Line {
  readonly slopePerS: number;
  at(timeS: number): number;
}
export function fitLine(timeS: Float64Array, column: Float64Array, fromS: number, toS: number): Line | null {
  const span = samplesWithin(timeS, fromS, toS);
  if (span === null || span.last === span.first) return null;
  const count = span.last - span.first + 1;
  let meanT = 0;
  let meanY = 0;
  for (let i = span.first; i <= span.last; i++) {
    meanT += (timeS[i] as number) / count;
    meanY += (column[i] as number) / count;
  }
  let covariance = 0;
  let variance = 0;
  for (let i = span.first; i <= span.last; i++) {
    const offset = (timeS[i] as number) - meanT;
    covariance += offset * ((column[i] as number) - meanY);
    variance += offset * offset;
  }
  const slopePerS = covariance / variance;
  if (!Number.isFinite(slopePerS)) return null; // times so near each other that their squares vanish
  return { slopePerS, at: (atS) => meanY + slopePerS * (atS - meanT) };
}

/** Mean and standard deviation about the fitted line over the samples of a span; null with fewer than four. */
export function spreadOf(
  timeS: Float64Array,
  column: Float64Array,
  fromS: number,
  toS: number,
): { mean: number; deviation: number } | null {
  const span = samplesWithin(timeS, fromS, toS);
  const line = fitLine(timeS, column, fromS, toS);
  if (span === null || line === null) return null;
  const count = span.last - span.first + 1;
  if (count < 4) return null;
  let sum = 0;
  let squares = 0;
  for (let i = span.first; i <= span.last; i++) {
    sum += column[i] as number;
    squares += ((column[i] as number) - line.at(timeS[i] as number)) ** 2;
  }
  return { mean: sum / count, deviation: Math.sqrt(squares / (count - 2)) };
}

/**
 * Time-weighted mean of a function of the column over a span, by the trapezoid rule, with the ends interpolated.
 * null when the span is empty.
 */
export function timeMean(
  timeS: Float64Array,
  fromS: number,
  toS: number,
  value: (atS: number) => number,
): number | null {
  if (!(toS > fromS)) return null;
  const inside = samplesWithin(timeS, fromS, toS);
  let previousS = fromS;
  let previous = value(fromS);
  let area = 0;
  const add = (atS: number) => {
    const now = value(atS);
    area += ((previous + now) / 2) * (atS - previousS);
    previousS = atS;
    previous = now;
  };
  if (inside !== null)
    for (let i = inside.first; i <= inside.last; i++) {
      const atS = timeS[i] as number;
      if (atS > previousS && atS < toS) add(atS);
    }
  add(toS);
  return area / (toS - fromS);
}

/** Centred moving mean over ±halfS, in one pass. The window shrinks evenly at the ends, so that a ramp stays a ramp. */
export function smoothed(timeS: Float64Array, column: Float64Array, halfS: number): Float64Array {
  const count = timeS.length;
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sums[i + 1] = (sums[i] as number) + (column[i] as number);
  const result = new Float64Array(count);
  let first = 0;
  let last = 0;
  for (let i = 0; i < count; i++) {
    const atS = timeS[i] as number;
    while (atS - (timeS[first] as number) > halfS) first++;
    while (last + 1 < count && (timeS[last + 1] as number) - atS <= halfS) last++;
    const reach = Math.min(i - first, last - i);
    result[i] = ((sums[i + reach + 1] as number) - (sums[i - reach] as number)) / (2 * reach + 1);
  }
  return result;
}

/** Direction of a crossing: through the level upwards or downwards. */
export type CrossingSense = 'up' | 'down';

/** First time within a span at which the column passes a level, interpolated; null when it does not. */
export function firstCrossing(
  timeS: Float64Array,
  column: Float64Array,
  level: number,
  sense: CrossingSense,
  fromS: number,
  toS: number,
): number | null {
  const sign = sense === 'up' ? 1 : -1;
  const start = Math.max(indexAt(timeS, fromS), 0);
  for (let i = start; i + 1 < timeS.length && (timeS[i] as number) <= toS; i++) {
    const before = sign * ((column[i] as number) - level);
    const after = sign * ((column[i + 1] as number) - level);
    if (before >= 0 || after < 0) continue;
    const t0 = timeS[i] as number;
    const atS = t0 + (before / (before - after)) * ((timeS[i + 1] as number) - t0);
    if (atS >= fromS && atS <= toS) return atS;
  }
  return null;
}

/**
 * First time within a span from which the column stays on one side of a level for `holdS` (or to the end of the
 * span, if that comes sooner and at least half of `holdS` is left); interpolated; null when it never does.
 */
export function firstHeld(
  timeS: Float64Array,
  column: Float64Array,
  level: number,
  side: 'above' | 'below',
  holdS: number,
  fromS: number,
  toS: number,
): number | null {
  const sign = side === 'above' ? 1 : -1;
  const isThere = (value: number) => sign * (value - level) > 0;
  const sense = side === 'above' ? 'up' : 'down';
  let candidate: number | null = isThere(valueAt(timeS, column, fromS))
    ? fromS
    : firstCrossing(timeS, column, level, sense, fromS, toS);
  while (candidate !== null) {
    const left = firstCrossing(timeS, column, level, sense === 'up' ? 'down' : 'up', candidate, toS);
    const heldS = (left ?? toS) - candidate;
    if (heldS >= holdS || (left === null && heldS >= holdS / 2)) return candidate;
    if (left === null) return null;
    candidate = firstCrossing(timeS, column, level, sense, left, toS);
  }
  return null;
}
