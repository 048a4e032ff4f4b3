// Up to which failure height a landing ahead still has the runway just left, or the airfield, in front of it.
import { flyAttempt } from './flyAttempt.js';
import type { FlyRequest, Outcome } from './request.js';

const LOWEST_FT = 50;
const HIGHEST_FT = 3_000;
const STEP_FT = 25;
const PRECISION_FT = 1;

/** Both count from a failure at 50 ft up, each height below told included (ft above the runway). */
export interface AheadReach {
  /** Highest failure from which it stops on the runway; null: not even from 50 ft. */
  readonly stopsUpToFt: number | null;
  /** Highest failure from which it comes down inside the airfield, on the runway or beyond it; null: not even from 50 ft. */
  readonly airfieldUpToFt: number | null;
  /** Heights looked at (ft): a figure equal to the last is the end of the look and no edge. */
  readonly scannedToFt: number;
}

/**
 * What lies ahead of the modelled climb: the technique's delay and speeds flown straight on from each failure height,
 * wings level, to 1 ft. Walked upwards in steps of 25 ft: the higher the failure, the farther along it is.
 *
 * @param options.toFt Height to look up to, 50 to 6 000 (ft); 3 000 when absent.
 * @throws {RangeError} As `flyAttempt`.
 */
export function aheadReach(request: FlyRequest, options: { readonly toFt?: number | undefined } = {}): AheadReach {
  const scannedToFt = options.toFt ?? HIGHEST_FT;
  const outcomeAt = (heightFt: number) =>
    flyAttempt({
      ...request,
      technique: { ...request.technique, turn: 'ahead' },
      failure: { ...request.failure, heightFt },
    }).outcome;
  return {
    stopsUpToFt: highestFt((heightFt) => STOPS.has(outcomeAt(heightFt)), scannedToFt),
    airfieldUpToFt: highestFt((heightFt) => ON_AIRFIELD.has(outcomeAt(heightFt)), scannedToFt),
    scannedToFt,
  };
}

const STOPS: ReadonlySet<Outcome> = new Set<Outcome>(['stopped-on-runway']);
const ON_AIRFIELD: ReadonlySet<Outcome> = new Set<Outcome>(['stopped-on-runway', 'overrun', 'on-airfield']);

function highestFt(works: (heightFt: number) => boolean, toFt: number): number | null {
  if (!works(LOWEST_FT)) return null;
  let good = LOWEST_FT;
  let bad: number | null = null;
  while (bad === null && good < toFt) {
    const next = Math.min(good + STEP_FT, toFt);
    if (works(next)) good = next;
    else bad = next;
  }
  while (bad !== null && bad - good > PRECISION_FT) {
    const middle = Math.round((good + bad) / 2);
    if (works(middle)) good = middle;
    else bad = middle;
  }
  return good;
}
