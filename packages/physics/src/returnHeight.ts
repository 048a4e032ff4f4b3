// The lowest height from which a return is made, everything else of the failure moment kept.

import { anyAimStops, flyAim } from './aim.js';
import { STEP_S } from './attempt.js';
import { checkAttemptInputs } from './checkRequest.js';
import { chooseAim, type FlyOptions, isSymmetric } from './flyAttempt.js';
import type { FlyRequest } from './request.js';
import { buildScene, type Scene } from './scene.js';
import { H, X, Y } from './state.js';
import { GRAVITY_MPS2, M_PER_FT, MPS_PER_KT } from './units.js';

/** Heights tried first, and how closely the edge between them is found (ft). */
const SCAN_STEP_FT = 100;
const LOWEST_FT = 50;
const PRECISION_FT = 2;
const CONFIRMATIONS = 10;
/** A surface wind grows by less than this up to 1000 ft (1.8 from 20 ft, more from lower down). */
const WIND_GROWTH = 3;
/** The delay still has power left to die away, and the ground has a cushion (m). */
const REACH_SPARE_M = 300;
/** No answer is sought above this (ft). */
export const HIGHEST_RETURN_FT = 5_000;

/**
 * Lowest failure height (ft above the runway, to 2 ft) from which this technique stops on the runway, when only the
 * height of the failure moment changes: same place over the ground, same speed, track, bank. Null when there is none
 * up to 5 000 ft, or when the technique lands ahead.
 *
 * The failure moment is the modelled climb at `failure.heightFt`, or `options.start`.
 * @throws {RangeError} As `flyAttempt`.
 */
export function lowestReturnFt(request: FlyRequest, options: Pick<FlyOptions, 'start'> = {}): number | null {
  checkAttemptInputs(request, options.start);
  if (request.technique.turn === 'ahead') return null;
  const scene = buildScene(request, options.start);
  let made = LOWEST_FT;
  while (!isMade(scene, made)) {
    made += SCAN_STEP_FT;
    if (made > HIGHEST_RETURN_FT) return null;
  }
  if (made === LOWEST_FT) return made;
  let missed = made - SCAN_STEP_FT;
  while (made - missed > PRECISION_FT) {
    const middle = (made + missed) / 2;
    if (isMade(scene, middle)) made = middle;
    else missed = middle;
  }
  // The flight that would be flown from there has the last word; it differs by a few feet at most.
  for (let i = 0; i < CONFIRMATIONS && !isFlown(scene, made); i++) made += PRECISION_FT;
  return made;
}

function isMade(scene: Scene, heightFt: number): boolean {
  scene.start[H] = heightFt * M_PER_FT;
  if (!mayReach(scene)) return false;
  const { turn } = scene.request.technique;
  if (turn === 'left' || turn === 'right') return anyAimStops(scene, turn === 'left' ? -1 : 1);
  return anyAimStops(scene, -1) || (!isSymmetric(scene) && anyAimStops(scene, 1));
}

function isFlown(scene: Scene, heightFt: number): boolean {
  scene.start[H] = heightFt * M_PER_FT;
  return flyAim(scene, chooseAim(scene, undefined), STEP_S).contact.outcome === 'stopped-on-runway';
}

/** False only if not even the best glide, all speed turned into height and the wind behind it, reaches the runway. */
function mayReach({ start, model, plane, request }: Scene): boolean {
  if (request.failure.powerFraction > 0) return true;
  const lengthM = request.runway.lengthFt * M_PER_FT;
  const x = start[X] as number;
  const offM = Math.hypot(x < 0 ? -x : Math.max(x - lengthM, 0), start[Y] as number);
  model.observe(start);
  const energyM = (start[H] as number) + model.tasMps ** 2 / (2 * GRAVITY_MPS2);
  const dragZeroLift = plane.dragZeroLift + Math.min(0, ...Object.values(plane.propellerDrag));
  const ratio = 1 / (2 * Math.sqrt(dragZeroLift * plane.inducedFactor));
  const windMps = Math.max(0, ...request.weather.winds.map((wind) => wind.speedKt)) * MPS_PER_KT * WIND_GROWTH;
  // Sink is least a little below best glide; 0.8 of the sink there is below it for every polar (0.877).
  const leastSinkMps = (0.8 * plane.bestGlideMps) / ratio;
  return energyM * (ratio + windMps / leastSinkMps) > offM - REACH_SPARE_M;
}
