// The runway as a strip of the frame flown in: where it begins and ends, how wide it is, and how high its surface lies.
import type { RunwayNumbers } from './request.js';
import { clamp, M_PER_FT } from './units.js';

/** SI. Along counts from brake release in the take-off direction. */
export interface Strip {
  /** End behind brake release (0 unless the take-off starts along the runway), and the far end. */
  readonly startM: number;
  readonly endM: number;
  readonly halfWidthM: number;
  /** Rise of the surface for each metre along; uphill in the take-off direction is positive. */
  readonly slope: number;
}

export function stripOf(
  runway: Pick<RunwayNumbers, 'lengthFt' | 'widthFt' | 'takeoffStartFt' | 'slopePercent'>,
): Strip {
  const startM = -(runway.takeoffStartFt ?? 0) * M_PER_FT;
  return {
    startM,
    endM: startM + runway.lengthFt * M_PER_FT,
    halfWidthM: (runway.widthFt * M_PER_FT) / 2,
    slope: (runway.slopePercent ?? 0) / 100,
  };
}

/** Height of the ground (m) against brake release; beyond its ends the runway's level goes on flat. */
export function groundM(strip: Strip, alongM: number): number {
  return strip.slope === 0 ? 0 : strip.slope * clamp(alongM, strip.startM, strip.endM);
}

/** Slope of the ground there: 0 off the ends. */
export function groundSlope(strip: Strip, alongM: number): number {
  return alongM < strip.startM || alongM > strip.endM ? 0 : strip.slope;
}
