// One modelled attempt: from request to result, in handbook units.
import { bestAim, flyAim, type Judged } from './aim.js';
import { calibratedFromTrue } from './atmosphere.js';
import { STEP_S } from './attempt.js';
import { checkAttemptInputs, checkOptions } from './checkRequest.js';
import type { FlightStart, FlyRequest, FlyResult } from './request.js';
import { buildScene, resetModel, type Scene } from './scene.js';
import { BANK, H, VH, VY, X, Y } from './state.js';
import type { Aim } from './steering.js';
import { emptyTrack, type FlownTrack } from './track.js';
import { M_PER_FT, MPS_PER_FPM, MPS_PER_KT, RAD_PER_DEG } from './units.js';

/** What else a caller may ask of a flight. */
export interface FlyOptions {
  /** Also return the path, a row every so many seconds (0.02 to 10) and one at the contact. */
  readonly trackEveryS?: number | undefined;
  /** Start from this moment instead of the modelled climb; `failure.heightFt` is then not read. */
  readonly start?: FlightStart | undefined;
  /** Fly to this point on the centreline instead of searching (ft along from brake release). */
  readonly aimFt?: number | undefined;
  /** Integration step of a turn (s), 0.005 to 0.2; 0.1 when absent. Phases that change slowly take up to four of it. */
  readonly stepS?: number | undefined;
}

/**
 * Flies one attempt: failure, delay, push and turn, return to the best aim point of the family (or ahead), flare,
 * contact, roll.
 *
 * @returns The result, and the flown path when `trackEveryS` is given. Same input, same bits. No number in it is NaN.
 * @throws {RangeError} If a number is impossible; the message names field, value and allowed range.
 */
export function flyAttempt(
  request: FlyRequest,
  options: FlyOptions & { readonly trackEveryS: number },
): FlyResult & { readonly track: FlownTrack };
export function flyAttempt(
  request: FlyRequest,
  options?: FlyOptions,
): FlyResult & { readonly track?: FlownTrack | undefined };
export function flyAttempt(
  request: FlyRequest,
  options: FlyOptions = {},
): FlyResult & { readonly track?: FlownTrack | undefined } {
  checkAttemptInputs(request, options.start);
  checkOptions(options);
  const scene = buildScene(request, options.start);
  const aim = chooseAim(scene, options.aimFt);
  const track = options.trackEveryS === undefined ? undefined : emptyTrack();
  const recording = track === undefined ? null : { track, everyS: options.trackEveryS as number };
  const result = toResult(scene, flyAim(scene, aim, options.stepS ?? STEP_S, recording));
  return track === undefined ? result : { ...result, track };
}

/** The aim a technique leads to: searched on the side asked for, or on both; null when landing ahead. */
export function chooseAim(scene: Scene, aimFt: number | undefined): Aim | null {
  const { turn } = scene.request.technique;
  if (turn === 'ahead') return null;
  if (aimFt !== undefined && turn !== 'best') return { side: turn === 'left' ? -1 : 1, aimM: aimFt * M_PER_FT };
  if (turn !== 'best') return bestAim(scene, turn === 'left' ? -1 : 1).aim;
  const left = bestAim(scene, -1);
  if (isSymmetric(scene)) return left.aim;
  const right = bestAim(scene, 1);
  return left.cost <= right.cost ? left.aim : right.aim;
}

/** True when left and right are mirror images: on the centreline, wings level, no wind across it at any height. */
export function isSymmetric({ start, model }: Scene): boolean {
  return start[Y] === 0 && start[VY] === 0 && start[BANK] === 0 && model.wind.alongOnly;
}

function toResult(scene: Scene, { aim, flown, contact }: Judged): FlyResult {
  const { start, model } = scene;
  const startHeightM = start[H] as number;
  const end = flown.contact;
  resetModel(scene);
  model.observe(start);
  const tasMps = model.tasMps;
  const result: FlyResult = {
    outcome: contact.outcome,
    turn: aim === null ? 'ahead' : aim.side === 1 ? 'right' : 'left',
    failure: {
      distanceFt: (start[X] as number) / M_PER_FT,
      heightFt: startHeightM / M_PER_FT,
      kcas: calibratedFromTrue(tasMps, model.densityKgM3) / MPS_PER_KT,
      ktas: tasMps / MPS_PER_KT,
    },
    heightGainedFt: (flown.peakM - startHeightM) / M_PER_FT,
    speedLostKt: (tasMps - flown.tasAfterDelayMps) / MPS_PER_KT,
    heightLostTo180Ft: flown.heightAt180M === null ? null : (startHeightM - flown.heightAt180M) / M_PER_FT,
    largestSinkFpm: flown.largestSinkMps / MPS_PER_FPM,
    leastStallMargin: flown.leastStallMargin,
    turnedDeg: flown.turnedRad / RAD_PER_DEG,
    wingsLevelHeightFt: flown.wingsLevelM / M_PER_FT,
    touchdown: {
      alongFt: (end[X] as number) / M_PER_FT,
      acrossFt: (end[Y] as number) / M_PER_FT,
      sinkFpm: -(end[VH] as number) / MPS_PER_FPM,
      bankDeg: (end[BANK] as number) / RAD_PER_DEG,
      headingErrorDeg: contact.headingErrorRad / RAD_PER_DEG,
      groundspeedKt: contact.groundspeedMps / MPS_PER_KT,
    },
    stopMarginFt: contact.stopMarginM === null ? null : contact.stopMarginM / M_PER_FT,
    timeToGroundS: flown.timeS,
    aimFt: aim === null ? null : aim.aimM / M_PER_FT,
  };
  refuseNonFinite(result, '');
  return result;
}

/** The last door: an input that passed the checks and still leaves the model's range is refused, never answered. */
function refuseNonFinite(value: unknown, path: string): void {
  if (typeof value === 'number' && !Number.isFinite(value))
    throw new RangeError(`the request must describe an aeroplane that can fly, got no finite ${path.slice(1)} from it`);
  if (typeof value === 'object' && value !== null)
    for (const [key, inner] of Object.entries(value)) refuseNonFinite(inner, `${path}.${key}`);
}
