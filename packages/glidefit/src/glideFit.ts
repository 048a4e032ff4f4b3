// What a fit of a glide says: each figure with its uncertainty, beside what the aircraft file leads one to expect.
import type { PropellerState } from '@stillprop/contracts';

export type WindSource = 'known' | 'estimated';

export interface FitOptions {
  /** Range of the recording to look at (the recording's seconds); all of it when absent. */
  readonly fromS?: number | undefined;
  readonly toS?: number | undefined;
  /** `known`: the weather of the recording holds. `estimated`: from ground track, heading and airspeed. */
  readonly wind?: WindSource | undefined;
}

/**
 * `agrees`: the expected value lies inside the 95 % interval. `unclear`: it does, but the interval is wide, or the
 * ground track contradicts the wind or the airspeed that the fit rests on. `differs`: it lies outside. `held`: the
 * figure was not fitted. `extrapolated`: it lies outside what was flown, and is not told.
 */
export type Verdict = 'agrees' | 'differs' | 'unclear' | 'held' | 'extrapolated';

export interface FittedFigure {
  readonly value: number;
  /** In the unit of the figure; null when the figure was held or lies outside what was flown. */
  readonly standardError: number | null;
  readonly interval95: { readonly low: number; readonly high: number } | null;
  /** By the aircraft file, at the mass and in the propeller state flown. */
  readonly expected: number;
  /** How far the value is from what is expected (%). */
  readonly differencePercent: number;
  readonly verdict: Verdict;
  /** The verdict in words. */
  readonly text: string;
}

export interface FittedWind {
  readonly source: WindSource;
  /** In the middle of the heights flown. */
  readonly heightFt: number;
  readonly fromTrueDeg: number;
  readonly speedKt: number;
  /** Airspeed by the ground track over airspeed recorded; null when the glide turned too little to tell it from wind. */
  readonly airspeedRatio: { readonly value: number; readonly standardError: number } | null;
}

/** What the wing carried in the glide, single noisy samples left out. */
export interface FlownRange {
  readonly liftCoefficient: { readonly low: number; readonly high: number };
  /** Calibrated airspeeds that carry the weight at those lift coefficients, load factor 1. */
  readonly levelKcas: { readonly low: number; readonly high: number };
  readonly bestGlideLiftCoefficient: number;
  /** False where best glide lies more than 5 % in speed outside the range: it is extrapolated then. */
  readonly bestGlideInside: boolean;
}

export interface GlideFit {
  /** What a reader should know before trusting the figures, a sentence each, the gravest first. */
  readonly cautions: readonly string[];
  /** What was taken from the aircraft file instead of being fitted, a sentence each. */
  readonly held: readonly string[];
  readonly bestGlideRatio: FittedFigure;
  /** Calibrated airspeed at the mass flown. */
  readonly bestGlideKcas: FittedFigure;
  /** CD0 with the propeller as flown, gear and flap up. */
  readonly dragZeroLift: FittedFigure;
  /** K of CD = CD0 + K·CL². */
  readonly inducedFactor: FittedFigure;
  /** Sink at the handbook's best-glide speed, on the scale of `propellerSinkFactor` of the aircraft file. */
  readonly propellerSinkFactor: FittedFigure;
  /** Sink at the handbook's best-glide speed, wings level, sea level, standard day. */
  readonly sinkAtBestGlideFpm: FittedFigure;
  readonly propeller: PropellerState;
  readonly wind: FittedWind;
  /** Stretches of the recording that were used. */
  readonly segments: readonly { readonly fromS: number; readonly toS: number }[];
  readonly samples: number;
  /** Rows fitted, each the mean of the samples of a second or more. */
  readonly windows: number;
  readonly rmsResidualFt: number;
  readonly slowestKcas: number;
  readonly fastestKcas: number;
  readonly largestLoadFactor: number;
  readonly flown: FlownRange;
}
