// The runways a return may go to: the one just left, and others of the same airfield, each landed on in its own frame.
import type { RunwayNumbers } from './request.js';
import { VX, VY, X, Y } from './state.js';
import { M_PER_FT, RAD_PER_DEG } from './units.js';

/**
 * Where a frame lies in that of the departure runway: its origin (m along and across) and how far its x axis is turned
 * to the right (rad).
 */
export interface Frame {
  readonly alongM: number;
  readonly acrossM: number;
  readonly turnRad: number;
}

/** A runway to land on in one direction. Landing goes against the x axis of its frame, as on the runway just left. */
export interface Target {
  readonly name: string;
  readonly landingHeadingTrueDeg: number;
  /** Its numbers as if it were a departure runway used the other way round. */
  readonly runway: RunwayNumbers;
  /** Null: the frame of the departure runway. */
  readonly frame: Frame | null;
}

/** The runway just left, landed on the other way round. */
export function homeTarget(departure: RunwayNumbers): Target {
  return {
    name: departure.name,
    landingHeadingTrueDeg: reverse(departure.headingTrueDeg),
    runway: departure,
    frame: null,
  };
}

/** The runway just left, landed on the other way; then every other one of the airfield, in both directions. */
export function targetsOf(departure: RunwayNumbers): readonly Target[] {
  const { others = [], ...runway } = departure;
  return [
    homeTarget(departure),
    ...others.flatMap(({ startAlongFt, startAcrossFt, ...other }) =>
      [false, true].map((reversed): Target => {
        const turnRad = (other.headingTrueDeg - runway.headingTrueDeg) * RAD_PER_DEG;
        // Landing along its heading comes in over its start: the frame then begins at the far end and points back.
        const beginsM = reversed ? 0 : other.lengthFt * M_PER_FT;
        const headingTrueDeg = reversed ? other.headingTrueDeg : reverse(other.headingTrueDeg);
        return {
          name: other.name,
          landingHeadingTrueDeg: reverse(headingTrueDeg),
          runway: {
            ...runway,
            ...other,
            headingTrueDeg,
            takeoffStartFt: 0,
            slopePercent: (reversed ? 1 : -1) * (other.slopePercent ?? 0),
          },
          frame: {
            alongM: startAlongFt * M_PER_FT + beginsM * Math.cos(turnRad),
            acrossM: startAcrossFt * M_PER_FT + beginsM * Math.sin(turnRad),
            turnRad: turnRad + (reversed ? 0 : Math.PI),
          },
        };
      }),
    ),
  ];
}

/** Turns a state of the departure runway's frame into another frame, in place. */
export function intoFrame(frame: Frame, state: Float64Array): void {
  const cos = Math.cos(frame.turnRad);
  const sin = Math.sin(frame.turnRad);
  const x = (state[X] as number) - frame.alongM;
  const y = (state[Y] as number) - frame.acrossM;
  const vx = state[VX] as number;
  const vy = state[VY] as number;
  state[X] = x * cos + y * sin;
  state[Y] = y * cos - x * sin;
  state[VX] = vx * cos + vy * sin;
  state[VY] = vy * cos - vx * sin;
}

/** A point of a frame in that of the departure runway (m). */
export function fromFrame(frame: Frame | null, x: number, y: number): { alongM: number; acrossM: number } {
  if (frame === null) return { alongM: x, acrossM: y };
  const cos = Math.cos(frame.turnRad);
  const sin = Math.sin(frame.turnRad);
  return { alongM: frame.alongM + x * cos - y * sin, acrossM: frame.acrossM + x * sin + y * cos };
}

function reverse(deg: number): number {
  return (deg + 180) % 360;
}
