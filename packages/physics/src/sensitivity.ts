// What each thing a pilot can change, or the day can, costs in feet: one step more and one step less of it.
import { checkAttemptInputs, checkFlyRequest } from './checkRequest.js';
import { heightLostFt } from './heightLostByTurn.js';
import { lowestReturnNearFt } from './lowestReturn.js';
import type { FlightStart, FlyRequest } from './request.js';
import { lowestStopFt, returnWindows } from './returnWindows.js';
import { buildScene } from './scene.js';
import { withAddedWind } from './windChange.js';

/** Change in feet against the technique as given; positive: more height is needed. */
export interface Cost {
  /** Of the height lost to 180° of heading, wings level again. */
  readonly heightLostTo180Ft: number;
  /** Of the lowest failure height from which a return works; null when there is none, before or after the change. */
  readonly lowestReturnFt: number | null;
}

export interface Sensitivity {
  readonly quantity: 'delay' | 'bank' | 'target speed' | 'climb speed' | 'head wind';
  /** Size of the step, in `unit`. */
  readonly step: number;
  readonly unit: 's' | '°' | 'kt';
  /** What one step less and one step more of it cost; null: cannot be flown so. */
  readonly less: Cost | null;
  readonly more: Cost | null;
}

/** The steps: what a pilot can picture. Own choice. */
const STEPS = [
  { quantity: 'delay', step: 1, unit: 's' },
  { quantity: 'bank', step: 5, unit: '°' },
  { quantity: 'target speed', step: 5, unit: 'kt' },
  { quantity: 'climb speed', step: 5, unit: 'kt' },
  { quantity: 'head wind', step: 10, unit: 'kt' },
] as const;

/**
 * Two-sided sensitivities: one second of delay, 5° of bank, 5 kt of target speed, 5 kt of climb speed, 10 kt of head
 * wind (added along the runway at 33 ft, growing by the log law), each in feet of height lost to 180° and feet of the
 * lowest height a return works from. The rest of the request stays as it is; the aim is searched anew.
 *
 * From a recorded start the climb is past: its speed then counts in neither figure and costs 0.
 *
 * @param options.lowestReturnFt The lowest return as known from `returnWindows`, so that it is not searched again; null:
 *   there is none.
 * @throws {RangeError} As `flyAttempt`.
 */
export function sensitivity(
  request: FlyRequest,
  options: {
    readonly start?: FlightStart | undefined;
    readonly lowestReturnFt?: number | null | undefined;
    readonly onProgress?: ((share: number) => void) | undefined;
  } = {},
): Sensitivity[] {
  checkAttemptInputs(request, options.start);
  const { start } = options;
  const lowestFt =
    options.lowestReturnFt === undefined
      ? lowestStopFt(returnWindows(request, { start }).windows)
      : options.lowestReturnFt;
  const lost = (changed: FlyRequest) => {
    const scene = buildScene(changed, start);
    return heightLostFt(scene, changed.technique.turn === 'left' ? -1 : 1, 180).heightLostFt;
  };
  const lostFt = lost(request);
  const cost = (changed: FlyRequest): Cost | null => {
    if (!canBeFlown(changed, start)) return null;
    const nearFt = lowestFt === null ? null : lowestReturnNearFt(changed, lowestFt, start);
    return {
      heightLostTo180Ft: lost(changed) - lostFt,
      lowestReturnFt: nearFt === null || lowestFt === null ? null : nearFt - lowestFt,
    };
  };
  return STEPS.map(({ quantity, step, unit }, index) => {
    const less = cost(changedBy(request, quantity, -step));
    const more = cost(changedBy(request, quantity, step));
    options.onProgress?.((index + 1) / STEPS.length);
    return { quantity, step, unit, less, more };
  });
}

function changedBy(request: FlyRequest, quantity: Sensitivity['quantity'], by: number): FlyRequest {
  const { technique, weather, runway } = request;
  switch (quantity) {
    case 'delay':
      return { ...request, technique: { ...technique, delayS: technique.delayS + by } };
    case 'bank':
      return { ...request, technique: { ...technique, bankDeg: technique.bankDeg + by } };
    case 'target speed':
      return { ...request, technique: { ...technique, targetKcas: technique.targetKcas + by } };
    case 'climb speed':
      return { ...request, technique: { ...technique, climbKcas: technique.climbKcas + by } };
    case 'head wind':
      return {
        ...request,
        weather: { ...weather, winds: withAddedWind(weather.winds, runway.headingTrueDeg + 180, by) },
      };
  }
}

/** False where the change leaves what can be asked for: a delay below 0, a speed below the stall. */
function canBeFlown(request: FlyRequest, start: FlightStart | undefined): boolean {
  try {
    checkFlyRequest(request);
    buildScene(request, start);
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}
