// Height lost against heading change, delay and push included and wings level at the end: the base of every decision height.
import { checkAttemptInputs } from './checkRequest.js';
import { flyHeadingTurn } from './headingTurn.js';
import type { FlightStart, FlyRequest } from './request.js';
import { buildScene, type Scene } from './scene.js';
import { H } from './state.js';
import { M_PER_FT, RAD_PER_DEG } from './units.js';

/** Heading changes told when none are asked for (deg). */
export const TURNS_DEG: readonly number[] = [30, 60, 90, 120, 150, 180, 210, 240, 270, 300, 330, 360];

export interface HeightLost {
  readonly turnDeg: number;
  /** Failure height less the height with the wings level on the new heading (ft); negative: still above it. */
  readonly heightLostFt: number;
  /** Failure to that moment (s). */
  readonly timeS: number;
}

/**
 * Height lost from the failure to wings level on a heading so many degrees round, for each of a list of heading
 * changes: the delay, the push, the roll in and the roll out are in it. Wings level means within 5° of bank and 1° of
 * the heading. Gear and flap stay as they were at the failure, and the ground is left out, so that figures larger than
 * the failure height can be told. The heading is that of the nose: in a wind the track differs.
 *
 * @param options.start Start from this moment instead of the modelled climb.
 * @param options.turnsDeg Heading changes, 1 to 720 (deg); 30 to 360 by 30 when absent.
 * @param options.turn Side; that of the technique when absent, right where the technique leaves it open. In still air
 *   both are alike; in a wind that grows with height they are not.
 * @throws {RangeError} As `flyAttempt`; or if a heading change is out of range.
 */
export function heightLostByTurn(
  request: FlyRequest,
  options: {
    readonly start?: FlightStart | undefined;
    readonly turnsDeg?: readonly number[] | undefined;
    readonly turn?: 'left' | 'right' | undefined;
  } = {},
): HeightLost[] {
  checkAttemptInputs(request, options.start);
  const turnsDeg = options.turnsDeg ?? TURNS_DEG;
  turnsDeg.forEach((turnDeg, index) => {
    if (!(turnDeg >= 1 && turnDeg <= 720)) throw new RangeError(`turnsDeg[${index}] must be 1 to 720°, got ${turnDeg}`);
  });
  const scene = buildScene(request, options.start);
  const side = (options.turn ?? request.technique.turn) === 'left' ? -1 : 1;
  return turnsDeg.map((turnDeg) => heightLostFt(scene, side, turnDeg));
}

/** One figure of {@link heightLostByTurn} for a scene. */
export function heightLostFt(scene: Scene, side: 1 | -1, turnDeg: number): HeightLost {
  const end = flyHeadingTurn(scene, side, turnDeg * RAD_PER_DEG);
  return {
    turnDeg,
    heightLostFt: ((scene.start[H] as number) - (end.state[H] as number)) / M_PER_FT,
    timeS: end.timeS,
  };
}
