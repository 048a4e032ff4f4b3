// The noise a glide may carry: of the instruments, without memory, and of the air, which adds up along the way.
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { Windowed } from './windowing.js';

/** Wandering over 10 s against the noise of a window's mean (variances); from little to hardly anything else. */
const WANDER_SHARES = [0.03, 0.3, 3, 30, 300, 3000];
/** How long a rising or sinking patch of air lasts (s): gusts at some hundreds of feet last 2 to 10 s; own choice. */
const MEMORIES_S = [0.5, 3, 10];
/** Chance given beforehand to air without wander; own choice: more makes intervals of short, rough glides too narrow. */
const SMOOTH_AIR = 0.3;
const REFERENCE_S = 10;

/** One assumption about the noise, by the lower triangle L of its covariance L·Lᵀ (up to a factor). */
export interface NoiseModel {
  readonly lower: Matrix;
  readonly logDeterminant: number;
  /** Chance given to this assumption before the data are looked at. */
  readonly chance: number;
}

/**
 * Assumptions about the noise of window means: white noise plus the integral of a rate that forgets itself in a time τ
 * (an Ornstein-Uhlenbeck process); stretches are independent.
 */
export function noiseModels(windows: readonly Windowed[]): NoiseModel[] {
  const rest = (1 - SMOOTH_AIR) / (WANDER_SHARES.length * MEMORIES_S.length);
  return [
    noiseModel(windows, 0, 1, SMOOTH_AIR),
    ...WANDER_SHARES.flatMap((share) => MEMORIES_S.map((memoryS) => noiseModel(windows, share, memoryS, rest))),
  ];
}

/** A vector or matrix with L taken out, row by row: what is left has white noise. */
export function whitened({ lower }: NoiseModel, rows: Matrix): Matrix {
  const result = rows.clone();
  for (let column = 0; column < rows.columns; column++) {
    for (let i = 0; i < rows.rows; i++) {
      let rest = rows.get(i, column);
      for (let j = 0; j < i; j++) rest -= lower.get(i, j) * result.get(j, column);
      result.set(i, column, rest / lower.get(i, i));
    }
  }
  return result;
}

function noiseModel(windows: readonly Windowed[], share: number, memoryS: number, chance: number): NoiseModel {
  const starts = new Map<number, number>();
  for (const { segment, midS } of windows) if (!starts.has(segment)) starts.set(segment, midS);
  const scale = share / wander(REFERENCE_S, REFERENCE_S, memoryS);
  const covariance = Matrix.zeros(windows.length, windows.length);
  windows.forEach((a, i) => {
    windows.forEach((b, j) => {
      const startS = starts.get(a.segment) ?? 0;
      const shared = a.segment === b.segment ? scale * wander(a.midS - startS, b.midS - startS, memoryS) : 0;
      covariance.set(i, j, shared + (i === j ? 1 : 0));
    });
  });
  const lower = new CholeskyDecomposition(covariance).lowerTriangularMatrix;
  const logDeterminant = 2 * lower.diagonal().reduce((sum, pivot) => sum + Math.log(pivot), 0);
  return { lower, logDeterminant, chance };
}

/** Covariance at two times since the start (s) of the integral of a rate with unit variance and memory τ. */
function wander(s: number, t: number, memoryS: number): number {
  const decay = (spanS: number) => Math.exp(-spanS / memoryS);
  return memoryS * (2 * Math.min(s, t) + memoryS * (decay(s) + decay(t) - decay(Math.abs(s - t)) - 1));
}
