// One pilot, one day drawn at random round the plan: how each quantity is spread, and how a draw changes a request.
import { randomSource } from './random.js';
import type { FlyRequest, PropellerState } from './request.js';
import { clamp } from './units.js';
import { withAddedWind } from './windChange.js';

/**
 * How far real flights stray from the plan. Every figure is our own choice unless a source is named; all may be given.
 */
export interface SpreadErrors {
  /**
   * Standard deviation of the logarithm of the delay; the delay is lognormal with the technique's as its median.
   * 0.35: two of three pilots within 2.1 s to 4.3 s of a planned 3 s, one of twenty above 5.3 s. Trade press gives 3 s to
   * 5 s in all (Twin & Turbine, April 2016).
   */
  readonly delayLogSd: number;
  /** Bank flown (deg), normal. 3°: the test standard's ±5° (FAA-S-ACS-6C, steep turns) is kept nine times of ten. */
  readonly bankSdDeg: number;
  /** Target speed flown (kt), normal. 5 kt: the test standard's ±10 kt (FAA-S-ACS-6C, emergency approach) at two of them. */
  readonly speedSdKt: number;
  /** Climb speed at the failure (kt), normal. */
  readonly climbSpeedSdKt: number;
  /** Each wind component at 33 ft (kt), normal: this, and this share of the strongest wind given. */
  readonly windSdKt: number;
  readonly windSdShare: number;
  /** Standard deviation of the logarithm of the glide ratio: rigging, dirt, an optimistic handbook. */
  readonly glideLogSd: number;
  /**
   * Turbulence of Dryden form (MIL-F-8785C 3.7.3.4), given as the mean wind at 20 ft it belongs to (kt): 15 light, 30
   * moderate. 0: none, as the planner has it elsewhere.
   */
  readonly turbulenceAt20FtKt: number;
  /** Share of failures with the propeller in each state, relative to each other; those of the request when absent. */
  readonly propellerShares?: { readonly [state in PropellerState]?: number } | undefined;
}

/** Used where nothing else is asked for; own choice, see {@link SpreadErrors}. */
export const DEFAULT_ERRORS: SpreadErrors = {
  delayLogSd: 0.35,
  bankSdDeg: 3,
  speedSdKt: 5,
  climbSpeedSdKt: 3,
  windSdKt: 2,
  windSdShare: 0.1,
  glideLogSd: 0.04,
  turbulenceAt20FtKt: 0,
};

/** The numbers of one draw, before the limits of the aeroplane are put on them. */
export interface SpreadDraw {
  readonly delayS: number;
  readonly bankDeg: number;
  readonly targetKcas: number;
  readonly climbKcas: number;
  /** Added to the wind: along the runway in the take-off direction, and across to the right (kt at 33 ft). */
  readonly windAlongKt: number;
  readonly windAcrossKt: number;
  readonly glideRatio: number;
  readonly propeller: PropellerState;
  /** Seed of the gusts. */
  readonly gustSeed: number;
}

/** Slowest a pilot is taken to fly on purpose, in stall speeds; bank and delay held within what the checks allow. */
const LEAST_STALLS = 1.02;
const BANK_RANGE_DEG = [10, 70] as const;
const LONGEST_DELAY_S = 30;

/**
 * Draw number `index` of a seed. It depends on these two alone, not on the draws before it: workers can share the work
 * in any order and come to the same result.
 *
 * @throws {RangeError} If seed or index is not an integer.
 */
export function drawSpread(request: FlyRequest, errors: SpreadErrors, seed: number, index: number): SpreadDraw {
  const random = randomSource(streamSeed(seed, index));
  const { technique, weather, aircraft, failure } = request;
  const strongestKt = Math.max(0, ...weather.winds.map(({ speedKt }) => speedKt));
  const windSdKt = errors.windSdKt + errors.windSdShare * strongestKt;
  // The order of the draws is part of the answer for a seed: new ones go to the end.
  const delayS = technique.delayS * Math.exp(errors.delayLogSd * random.normal());
  const bankDeg = technique.bankDeg + errors.bankSdDeg * random.normal();
  const targetKcas = technique.targetKcas + errors.speedSdKt * random.normal();
  const climbKcas = technique.climbKcas + errors.climbSpeedSdKt * random.normal();
  const windAlongKt = windSdKt * random.normal();
  const windAcrossKt = windSdKt * random.normal();
  const glideRatio = aircraft.bestGlideRatio * Math.exp(errors.glideLogSd * random.normal());
  const propeller = pick(errors.propellerShares, failure.propeller, random.uniform());
  const gustSeed = Math.floor(random.uniform() * 4_294_967_296);
  return { delayS, bankDeg, targetKcas, climbKcas, windAlongKt, windAcrossKt, glideRatio, propeller, gustSeed };
}

/** The request as flown in a draw; speeds and bank are held within what an aeroplane can be asked for. */
export function drawnRequest(request: FlyRequest, draw: SpreadDraw): FlyRequest {
  const { technique, weather, aircraft, failure, runway } = request;
  const stall = aircraft.stallCleanKcas * Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  const along = withAddedWind(weather.winds, runway.headingTrueDeg, draw.windAlongKt);
  return {
    runway,
    aircraft: { ...aircraft, bestGlideRatio: clamp(draw.glideRatio, 3, 40) },
    weather: { ...weather, winds: withAddedWind(along, runway.headingTrueDeg + 90, draw.windAcrossKt) },
    technique: {
      ...technique,
      delayS: Math.min(draw.delayS, LONGEST_DELAY_S),
      bankDeg: clamp(draw.bankDeg, Math.min(BANK_RANGE_DEG[0], technique.bankDeg), BANK_RANGE_DEG[1]),
      targetKcas: clamp(draw.targetKcas, LEAST_STALLS * stall, 200),
      climbKcas: clamp(draw.climbKcas, LEAST_STALLS * stall, 200),
    },
    failure: { ...failure, propeller: draw.propeller },
  };
}

/** Scrambles seed and index into one seed, so that neighbouring draws have nothing in common. */
function streamSeed(seed: number, index: number): number {
  if (!Number.isSafeInteger(seed)) throw new RangeError(`seed must be an integer, got ${seed}`);
  if (!Number.isSafeInteger(index)) throw new RangeError(`index must be an integer, got ${index}`);
  let mixed = Math.imul(seed | 0, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca77);
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x7feb352d);
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x846ca68b);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}

function pick(shares: SpreadErrors['propellerShares'], otherwise: PropellerState, uniform: number): PropellerState {
  if (shares === undefined) return otherwise;
  const entries = (['coarse', 'stopped', 'windmillingFine'] as const).map(
    (state) => [state, shares[state] ?? 0] as const,
  );
  const sum = entries.reduce((total, [, share]) => total + share, 0);
  let left = uniform * sum;
  for (const [state, share] of entries) {
    left -= share;
    if (left < 0) return state;
  }
  return otherwise;
}
