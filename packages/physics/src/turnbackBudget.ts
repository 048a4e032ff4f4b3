// A turn back on the back of an envelope: height had against height spent to the runway end, still air, closed form.
import { turnRadiusM, turnRateRadS } from './closedForms.js';

/** Still-air numbers of the budget; SI, angles in rad. */
export interface BudgetNumbers {
  readonly failureHeightM: number;
  /** One speed for climb, turn and glide (true, m/s). */
  readonly tasMps: number;
  readonly climbRateMps: number;
  readonly glideRatio: number;
  readonly bankRad: number;
  /** Flown level, at that speed. */
  readonly delayS: number;
  /** Brake release to lift-off, and runway length (m). */
  readonly liftoffM: number;
  readonly runwayM: number;
}

/** What the budget comes to; m, s, rad. */
export interface Budget {
  /** Over the ground from lift-off to the failure. */
  readonly climbRunM: number;
  /** From the far runway end to the start of the turn. */
  readonly beyondEndM: number;
  readonly radiusM: number;
  readonly turnRad: number;
  readonly turnS: number;
  readonly lostInTurnM: number;
  readonly lostStraightM: number;
  /** Failure height less both losses; negative: it does not reach the runway end. */
  readonly marginM: number;
}

/**
 * Ratio of the climb angle to the glide angle: asin(climb rate/V)/atan(1/E). Above 1 more height brings the runway
 * within reach sooner or later; below 1 each foot climbed carries the aeroplane farther away than it can glide back, and
 * a return works, if at all, only from a band of heights.
 *
 * @see D. F. Rogers, articles on the turnback manoeuvre, for the ratio as a predictor.
 */
export function climbToGlideRatio(numbers: Pick<BudgetNumbers, 'tasMps' | 'climbRateMps' | 'glideRatio'>): number {
  return Math.asin(numbers.climbRateMps / numbers.tasMps) / Math.atan(1 / numbers.glideRatio);
}

/**
 * Teardrop budget: climb, delay flown level, a turn through 180° and the angle whose tangent leads to the far runway
 * end, then straight to it. Turn at constant speed with sink V·n/E, straight leg D = R·cot(b/2) at 1/E, small path
 * angles. No push, no roll, no flare: flown in the full model it costs more.
 */
export function turnbackBudget(numbers: BudgetNumbers): Budget {
  const { failureHeightM, tasMps, climbRateMps, glideRatio, bankRad, delayS, liftoffM, runwayM } = numbers;
  const climbRad = Math.asin(climbRateMps / tasMps);
  const climbRunM = failureHeightM / Math.tan(climbRad);
  const beyondEndM = liftoffM + climbRunM + tasMps * delayS - runwayM;
  const radiusM = turnRadiusM(tasMps, bankRad);
  const turnRad = Math.PI + 2 * Math.atan2(radiusM, beyondEndM);
  const turnS = turnRad / turnRateRadS(tasMps, bankRad);
  const lostInTurnM = (tasMps / (glideRatio * Math.cos(bankRad))) * turnS;
  const lostStraightM = beyondEndM / glideRatio;
  return {
    climbRunM,
    beyondEndM,
    radiusM,
    turnRad,
    turnS,
    lostInTurnM,
    lostStraightM,
    marginM: failureHeightM - lostInTurnM - lostStraightM,
  };
}
