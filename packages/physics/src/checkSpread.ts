// The door of the spread: its options, their defaults and their ranges.
import type { FlightStart, FlyRequest } from './request.js';
import { DEFAULT_ERRORS, type SpreadErrors } from './spreadDraw.js';

export interface SpreadOptions {
  /** Start from this moment instead of the modelled climb: only its height is then changed. */
  readonly start?: FlightStart | undefined;
  /** Flights at each height, 1 to 1 000 000; 200 when absent. */
  readonly draws?: number | undefined;
  /** Any integer; 1 when absent. */
  readonly seed?: number | undefined;
  /** Number of the first draw, so that workers can share the draws of a seed; 0 when absent. */
  readonly firstDraw?: number | undefined;
  /** Failure heights in rising order, 50 to 6 000 (ft); that of the request when absent. */
  readonly heightsFt?: readonly number[] | undefined;
  /** What to change of `DEFAULT_ERRORS`. */
  readonly errors?: Partial<SpreadErrors> | undefined;
  /** Called after each draw with the share done, 0 to 1. */
  readonly onProgress?: ((share: number) => void) | undefined;
  /** Asked before each draw; true ends the work with the draws done so far. */
  readonly shouldStop?: (() => boolean) | undefined;
}

const LARGEST: { readonly [name in Exclude<keyof SpreadErrors, 'propellerShares'>]: number } = {
  delayLogSd: 1.5,
  bankSdDeg: 20,
  speedSdKt: 30,
  climbSpeedSdKt: 30,
  windSdKt: 30,
  windSdShare: 1,
  glideLogSd: 0.5,
  turbulenceAt20FtKt: 60,
};

/** @throws {RangeError} If an option is out of range; the message names field, value and allowed range. */
export function checkSpreadOptions(options: SpreadOptions, request: FlyRequest) {
  const draws = integer('draws', options.draws ?? 200, 1, 1_000_000);
  const seed = integer('seed', options.seed ?? 1, Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
  const firstDraw = integer('firstDraw', options.firstDraw ?? 0, 0, 1_000_000_000);
  const heightsFt = options.heightsFt ?? [request.failure.heightFt];
  if (heightsFt.length === 0 || heightsFt.length > 200)
    throw new RangeError(`heightsFt.length must be 1 to 200, got ${heightsFt.length}`);
  heightsFt.forEach((heightFt, index) => {
    const above = heightsFt[index - 1] ?? 0;
    if (!(heightFt >= 50 && heightFt <= 6_000 && heightFt > above))
      throw new RangeError(`heightsFt[${index}] must be 50 to 6000 ft and above the one before it, got ${heightFt}`);
  });
  const errors = { ...DEFAULT_ERRORS, ...options.errors };
  for (const [name, largest] of Object.entries(LARGEST)) {
    const value = errors[name as keyof typeof LARGEST];
    if (!(value >= 0 && value <= largest)) throw new RangeError(`errors.${name} must be 0 to ${largest}, got ${value}`);
  }
  checkPropellers(errors, request);
  return { draws, seed, firstDraw, heightsFt, errors };
}

function checkPropellers({ propellerShares }: SpreadErrors, { aircraft }: FlyRequest): void {
  if (propellerShares === undefined) return;
  let sum = 0;
  for (const [state, share] of Object.entries(propellerShares)) {
    if (share === undefined || share === 0) continue;
    if (!(share > 0 && share <= 1e6))
      throw new RangeError(`errors.propellerShares.${state} must be 0 or more, got ${share}`);
    if (!(state in aircraft.propellerSinkFactor) && state !== aircraft.bestGlidePropeller)
      throw new RangeError(
        `errors.propellerShares.${state} must be 0 for an aeroplane without a sink factor for it, got ${share}`,
      );
    sum += share;
  }
  if (sum === 0) throw new RangeError('errors.propellerShares must hold a share above 0, got none');
}

function integer(name: string, value: number, low: number, high: number): number {
  if (!(Number.isSafeInteger(value) && value >= low && value <= high))
    throw new RangeError(`${name} must be a whole number from ${low} to ${high}, got ${value}`);
  return value;
}
