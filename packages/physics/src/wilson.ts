// How well a share is known from so many trials.

/** A share with the interval it lies in. */
export interface Share {
  readonly count: number;
  readonly of: number;
  readonly share: number;
  /** Ends of the Wilson score interval, 95 % unless another quantile was asked for. */
  readonly low: number;
  readonly high: number;
}

/** Two-sided 95 % quantile of the normal distribution. */
const Z95 = 1.959963984540054;

/**
 * Wilson score interval of a share: (p + z²/2n ± z·√(p(1-p)/n + z²/4n²))/(1 + z²/n). Right for shares near 0 and 1,
 * where the usual normal interval claims certainty.
 *
 * @see E. B. Wilson, Journal of the American Statistical Association 22 (1927).
 * @throws {RangeError} If `of` is not at least 1 or `count` is not within 0 to `of`.
 */
export function wilson(count: number, of: number, z = Z95): Share {
  if (!(of >= 1 && count >= 0 && count <= of))
    throw new RangeError(`count must be 0 to ${of} and of at least 1, got ${count} of ${of}`);
  const p = count / of;
  const square = (z * z) / of;
  const middle = p + square / 2;
  const half = z * Math.sqrt((p * (1 - p)) / of + square / (4 * of));
  return {
    count,
    of,
    share: p,
    low: count === 0 ? 0 : (middle - half) / (1 + square),
    high: count === of ? 1 : (middle + half) / (1 + square),
  };
}
