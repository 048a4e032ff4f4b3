// What is measured of a flight step by step: heights, turn, sink, stall margin.
import type { FlightModel } from './flight.js';
import type { Phase } from './pilotProgram.js';
import { BANK, H, LIFT, VH } from './state.js';
import { RAD_PER_DEG, wrapRad } from './units.js';

/** Bank up to which the wings count as level (rad). */
const LEVEL_RAD = 5 * RAD_PER_DEG;

/** Measures of one flight; the model must have observed the state each time. SI, radians. */
export class FlightMeasures {
  peakM: number;
  /** Heading turned through so far, right positive. */
  turnedRad = 0;
  /** The same when the first turn was done. */
  turnedAtRollOutRad: number | null = null;
  heightAt180M: number | null = null;
  largestSinkMps = 0;
  stalled = false;
  tasAfterDelayMps: number;
  private headingRad: number;
  /** Vertical acceleration at the start of the step under way (m/s²). */
  private climbBeforeMps2 = 0;
  private leastMargin = Number.POSITIVE_INFINITY;
  private levelM: number | null;

  constructor(
    private readonly model: FlightModel,
    start: Float64Array,
  ) {
    this.peakM = start[H] as number;
    this.headingRad = Math.atan2(model.airY, model.airX);
    this.tasAfterDelayMps = model.tasMps;
    this.levelM = Math.abs(start[BANK] as number) <= LEVEL_RAD ? this.peakM : null;
  }

  /** Least V/(Vs1·√n) from first action to flare; that of the present state when there was no such time. */
  get leastStallMargin(): number {
    return Number.isFinite(this.leastMargin) ? this.leastMargin : this.stallMargin();
  }

  /** Height at which the wings were level for good (m); 0 when they never were. */
  get wingsLevelM(): number {
    return this.levelM ?? 0;
  }

  /** Notes what a step begins with; the model has begun it. */
  begin(): void {
    this.climbBeforeMps2 = this.model.climbMps2;
  }

  /** Takes the measures of a step of `tookS` flown from `before` to `state` in a phase; the model has begun the next. */
  take(before: Float64Array, state: Float64Array, tookS: number, phase: Phase): void {
    const { model } = this;
    const heightM = state[H] as number;
    const heightBeforeM = before[H] as number;
    const climbMps = state[VH] as number;
    const climbBeforeMps = before[VH] as number;
    this.peakM = Math.max(this.peakM, heightM, heightBeforeM + riseInside(climbBeforeMps, climbMps, tookS));
    const heading = Math.atan2(model.airY, model.airX);
    const turnedBefore = Math.abs(this.turnedRad);
    this.turnedRad += wrapRad(heading - this.headingRad);
    this.headingRad = heading;
    const turned = Math.abs(this.turnedRad);
    if (this.heightAt180M === null && turned >= Math.PI) {
      const share = (Math.PI - turnedBefore) / (turned - turnedBefore);
      this.heightAt180M = heightBeforeM + share * (heightM - heightBeforeM);
    }
    const bank = Math.abs(state[BANK] as number);
    const bankBefore = Math.abs(before[BANK] as number);
    if (bank > LEVEL_RAD) this.levelM = null;
    else if (bankBefore > LEVEL_RAD) {
      const share = (bankBefore - LEVEL_RAD) / (bankBefore - bank);
      this.levelM = heightBeforeM + share * (heightM - heightBeforeM);
    }
    if ((state[LIFT] as number) > model.liftMax * (1 + 1e-9)) this.stalled = true;
    if (phase === 'flare') return;
    const fasterMps = riseInside(-this.climbBeforeMps2, -model.climbMps2, tookS);
    this.largestSinkMps = Math.max(this.largestSinkMps, -climbMps, fasterMps - climbBeforeMps);
    if (phase !== 'delay') this.leastMargin = Math.min(this.leastMargin, this.stallMargin());
  }

  private stallMargin(): number {
    return Math.sqrt(this.model.liftMax / Math.max(this.model.lift, 1e-3));
  }
}

/** How far something rises in a step to a peak inside it, its rate going evenly from one value to another; 0 without a peak. */
function riseInside(rateBefore: number, rate: number, tookS: number): number {
  return rateBefore > 0 && rate < 0 ? (rateBefore * rateBefore * tookS) / (2 * (rateBefore - rate)) : 0;
}
