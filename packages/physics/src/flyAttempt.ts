// One modelled attempt: from request to result, in handbook units.
import { bestAim, flyAim, type Judged } from './aim.js';
import { calibratedFromTrue } from './atmosphere.js';
import { STEP_S } from './attempt.js';
import { checkAttemptInputs, checkOptions } from './checkRequest.js';
import type { FlightStart, FlyRequest, FlyResult } from './request.js';
import { sidesOf } from './returnSearch.js';
import { buildScenes, resetModel, type Scene } from './scene.js';
import { BANK, H, VH, X, Y } from './state.js';
import type { Aim } from './steering.js';
import { fromFrame, type Target } from './targets.js';
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
  /** Return to this runway only; the best of `runway` and `runway.others` when absent, `runway` when an aim is given. */
  readonly returnTo?: (FlyResult['returnedTo'] & object) | undefined;
  /** Step that stands for the accuracy (s), 0.005 to 0.2; 0.1 when absent. Steps follow their error, from a quarter to 6.5 of it. */
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
  const scenes = buildScenes(request, options.start).filter(({ target }) => isAsked(target, options.returnTo));
  const first = scenes[0];
  if (first === undefined)
    throw new RangeError(
      `returnTo must name runway.name or one of runway.others, and a direction of landing, got "${options.returnTo?.name}"`,
    );
  const given = options.aimFt === undefined ? null : givenAim(first, options.aimFt);
  const { scene, aim } = given === null ? chooseReturn(scenes) : { scene: first, aim: given };
  const track = options.trackEveryS === undefined ? undefined : emptyTrack();
  const recording = track === undefined ? null : { track, everyS: options.trackEveryS as number };
  const result = toResult(scene, flyAim(scene, aim, options.stepS ?? STEP_S, recording));
  return track === undefined ? result : { ...result, track: intoDeparture(track, scene.target.frame) };
}

/** The aim a caller gives; null when a side is still to be chosen, or when landing ahead. */
function givenAim({ request }: Scene, aimFt: number): Aim | null {
  const { turn } = request.technique;
  return turn === 'left' || turn === 'right' ? { side: turn === 'left' ? -1 : 1, aimM: aimFt * M_PER_FT } : null;
}

function isAsked(target: Target, asked: FlyOptions['returnTo']): boolean {
  if (asked === undefined) return true;
  return target.name === asked.name && Math.abs(target.landingHeadingTrueDeg - asked.landingHeadingTrueDeg) < 0.5;
}

/** The same track in the frame of the departure runway. */
function intoDeparture(track: FlownTrack, frame: Target['frame']): FlownTrack {
  if (frame === null) return track;
  track.alongFt.forEach((alongFt, row) => {
    const acrossFt = track.acrossFt[row] as number;
    const { alongM, acrossM } = fromFrame(frame, alongFt * M_PER_FT, acrossFt * M_PER_FT);
    track.alongFt[row] = alongM / M_PER_FT;
    track.acrossFt[row] = acrossM / M_PER_FT;
  });
  return track;
}

/** The runway, side and aim a technique leads to: the best over all that may be returned to. */
export function chooseReturn(scenes: readonly Scene[]): { readonly scene: Scene; readonly aim: Aim | null } {
  let best: { scene: Scene; aim: Aim; cost: number } | null = null;
  for (const scene of scenes) {
    if (scene.request.technique.turn === 'ahead') return { scene, aim: null };
    for (const side of sidesOf(scene)) {
      const chosen = bestAim(scene, side);
      if (best === null || chosen.cost < best.cost) best = { scene, aim: chosen.aim, cost: chosen.cost };
    }
  }
  if (best === null) throw new RangeError('runway must be one to return to, got none');
  return best;
}

function toResult(scene: Scene, { aim, flown, contact }: Judged): FlyResult {
  const { start, model, target } = scene;
  const { state: departed } = scene.departed;
  const landed = fromFrame(target.frame, flown.contact[X] as number, flown.contact[Y] as number);
  const startHeightM = start[H] as number;
  const end = flown.contact;
  resetModel(scene);
  model.observe(start);
  const tasMps = model.tasMps;
  const result: FlyResult = {
    outcome: contact.outcome,
    turn: aim === null ? 'ahead' : aim.side === 1 ? 'right' : 'left',
    failure: {
      distanceFt: (departed[X] as number) / M_PER_FT,
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
      alongFt: landed.alongM / M_PER_FT,
      acrossFt: landed.acrossM / M_PER_FT,
      sinkFpm: -(end[VH] as number) / MPS_PER_FPM,
      bankDeg: (end[BANK] as number) / RAD_PER_DEG,
      headingErrorDeg: contact.headingErrorRad / RAD_PER_DEG,
      groundspeedKt: contact.groundspeedMps / MPS_PER_KT,
    },
    stopMarginFt: contact.stopMarginM === null ? null : contact.stopMarginM / M_PER_FT,
    timeToGroundS: flown.timeS,
    aimFt: aim === null ? null : aim.aimM / M_PER_FT,
    returnedTo: aim === null ? null : { name: target.name, landingHeadingTrueDeg: target.landingHeadingTrueDeg },
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
