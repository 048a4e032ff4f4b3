// Tools to find where a noisy column begins to rise: windows, how much slopes scatter, and the break of a two-piece line.
import { fitLine, samplesWithin } from './columns.js';

const ONSET_STEP_S = 0.01;

/** A span of time, here that of the climb in which noise and gusts are measured. */
export interface Span {
  readonly fromS: number;
  readonly toS: number;
}

/** A stretch of at least a length of time and a number of samples. */
export interface Window {
  readonly holdS: number;
  readonly samples: number;
}

export function windowEnd(timeS: Float64Array, first: number, startS: number, window: Window): number {
  return Math.max(startS + window.holdS, timeS[Math.min(first + window.samples - 1, timeS.length - 1)] as number);
}

/** Standard deviation of the slopes that windows of the same kind show in the climb; 0 when there is too little of it. */
export function slopeDeviation(timeS: Float64Array, column: Float64Array, climb: Span, window: Window): number {
  const span = samplesWithin(timeS, climb.fromS, climb.toS);
  if (span === null) return 0;
  let count = 0;
  let sum = 0;
  let squares = 0;
  for (let i = span.first; i <= span.last; i++) {
    const startS = timeS[i] as number;
    const endS = windowEnd(timeS, i, startS, window);
    if (endS > climb.toS) break;
    const slope = fitLine(timeS, column, startS, endS)?.slopePerS ?? 0;
    count++;
    sum += slope;
    squares += slope * slope;
  }
  return count < 2 ? 0 : Math.sqrt(Math.max(squares / count - (sum / count) ** 2, 0));
}

/** Time at which a level line best turns into a rising one: least squares over both pieces, to 0.01 s. */
export function breakOf(
  timeS: Float64Array,
  column: Float64Array,
  fromS: number,
  toS: number,
  earliestS: number,
  latestS: number,
): number {
  const span = samplesWithin(timeS, fromS, toS);
  if (span === null) return earliestS;
  let best = latestS;
  let least = Number.POSITIVE_INFINITY;
  for (let step = 0; earliestS + step * ONSET_STEP_S <= latestS; step++) {
    const atS = earliestS + step * ONSET_STEP_S;
    const error = hingeError(timeS, column, span.first, span.last, atS);
    if (error < least - 1e-12) {
      least = error;
      best = atS;
    }
  }
  return best;
}

/** Squared error of y = a + b·max(0, t - atS), b not below 0, fitted to samples first..last. */
function hingeError(timeS: Float64Array, column: Float64Array, first: number, last: number, atS: number): number {
  const count = last - first + 1;
  let sumX = 0;
  let sumY = 0;
  let sumXX = 0;
  let sumXY = 0;
  let sumYY = 0;
  const origin = column[first] as number;
  for (let i = first; i <= last; i++) {
    const x = Math.max(0, (timeS[i] as number) - atS);
    const y = (column[i] as number) - origin;
    sumX += x;
    sumY += y;
    sumXX += x * x;
    sumXY += x * y;
    sumYY += y * y;
  }
  const varianceX = sumXX - (sumX * sumX) / count;
  const covariance = sumXY - (sumX * sumY) / count;
  const varianceY = sumYY - (sumY * sumY) / count;
  return varianceX > 1e-12 && covariance > 0 ? varianceY - (covariance * covariance) / varianceX : varianceY;
}
