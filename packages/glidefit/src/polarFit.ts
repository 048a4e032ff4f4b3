// Least squares for the two coefficients of a parabolic polar, with an uncertainty that allows for noise with memory.
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { CholeskyDecomposition, inverse, Matrix } from 'ml-matrix';
import type { EnergyWindow } from './energyWindows.js';
import { type NoiseModel, noiseModels, whitened } from './noiseModels.js';

/** Coefficients are looked for within a factor of e³ of the handbook's. */
const WIDEST = 3;
const ITERATIONS = 20;
/** Induced drag less certain than this (standard error of ln K) is not told from zero-lift drag: K is held. */
const LEAST_CERTAIN = 0.25;

export interface Polar {
  readonly dragZeroLift: number;
  readonly inducedFactor: number;
}

export interface PolarFit extends Polar {
  /** Covariance of ln CD0 and ln K; its second row and column are 0 where K was held. */
  readonly covariance: readonly [readonly [number, number], readonly [number, number]];
  readonly inducedHeld: boolean;
  readonly degreesOfFreedom: number;
  readonly rmsResidualM: number;
}

interface Solution {
  readonly logs: readonly number[];
  readonly covariance: Matrix;
  readonly logWeight: number;
  readonly rmsResidualM: number;
}

/**
 * Fits ln CD0 and ln K (each beside a handbook value to start from) and one energy height for each stretch.
 *
 * For each assumed noise the windows are whitened and fitted by Levenberg and Marquardt's method, with the covariance
 * s²·(JᵀJ)⁻¹. The fits are then averaged by their restricted likelihood (Patterson and Thompson, Biometrika 58, 1971,
 * from memory), so that the covariance told holds both the uncertainty under each noise and that of not knowing the
 * noise: with plain least squares the errors would come out several times too small in moving air.
 *
 * @param heldInduced K to hold whatever the data say; found out from the data when absent.
 */
export function fitPolar(windows: readonly EnergyWindow[], handbook: Polar, heldInduced?: number): PolarFit {
  const held = heldInduced !== undefined;
  const segments = [...new Set(windows.map(({ segment }) => segment))];
  const free = held ? 1 : 2;
  const freedom = windows.length - free - segments.length;
  if (freedom < 4)
    throw new RangeError(`windows must be at least ${free + segments.length + 4}, got ${windows.length}`);
  const start = { ...handbook, inducedFactor: heldInduced ?? handbook.inducedFactor };
  const solutions = noiseModels(windows).map((noise) => solve(windows, segments, start, noise, free));
  const best = solutions.reduce((a, b) => (b.logWeight > a.logWeight ? b : a));
  const weights = solutions.map(({ logWeight }) => Math.exp(logWeight - best.logWeight));
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const mean = [0, 1].map(
    (k) => solutions.reduce((at, { logs }, i) => at + (weights[i] as number) * (logs[k] ?? 0), 0) / sum,
  );
  const covariance = (a: number, b: number) =>
    a >= free || b >= free
      ? 0
      : solutions.reduce((at, solution, i) => {
          const apart = ((solution.logs[a] ?? 0) - (mean[a] ?? 0)) * ((solution.logs[b] ?? 0) - (mean[b] ?? 0));
          return at + (weights[i] as number) * (solution.covariance.get(a, b) + apart);
        }, 0) / sum;
  const logInducedError = Math.sqrt(covariance(1, 1));
  if (!held && !(logInducedError < LEAST_CERTAIN)) return fitPolar(windows, handbook, handbook.inducedFactor);
  return {
    dragZeroLift: start.dragZeroLift * Math.exp(mean[0] ?? 0),
    inducedFactor: start.inducedFactor * Math.exp(mean[1] ?? 0),
    covariance: [
      [covariance(0, 0), covariance(0, 1)],
      [covariance(1, 0), covariance(1, 1)],
    ],
    inducedHeld: held,
    degreesOfFreedom: freedom,
    rmsResidualM: best.rmsResidualM,
  };
}

/** One fit under one noise. Parameters: ln CD0 and, unless held, ln K, over the start; then the energy heights (m). */
function solve(
  windows: readonly EnergyWindow[],
  segments: readonly number[],
  start: Polar,
  noise: NoiseModel,
  free: number,
): Solution {
  const raw = new Matrix(
    windows.map(({ energyM, zeroLiftM, inducedM, segment }) => [
      energyM,
      -zeroLiftM * start.dragZeroLift,
      -inducedM * start.inducedFactor,
      ...segments.map((other) => (other === segment ? 1 : 0)),
    ]),
  );
  const white = whitened(noise, raw);
  const drag = (parameters: readonly number[], k: number) => (k < free ? Math.exp(parameters[k] ?? 0) : 1);
  const predicted = (rows: Matrix, parameters: readonly number[], i: number) =>
    drag(parameters, 0) * rows.get(i, 1) +
    drag(parameters, 1) * rows.get(i, 2) +
    segments.reduce((at, _, s) => at + (parameters[free + s] ?? 0) * rows.get(i, 3 + s), 0);
  const gradient = (parameters: readonly number[], i: number) => [
    ...Array.from({ length: free }, (_, k) => drag(parameters, k) * white.get(i, 1 + k)),
    ...segments.map((_, s) => white.get(i, 3 + s)),
  ];
  const count = windows.length;
  const parameterCount = free + segments.length;
  const bounds = (side: number) =>
    Array.from({ length: parameterCount }, (_, k) => side * (k < free ? WIDEST : Number.MAX_SAFE_INTEGER));
  const { parameterValues } = levenbergMarquardt(
    { x: Array.from({ length: count }, (_, i) => i), y: white.getColumn(0) },
    (parameters) => (i) => predicted(white, parameters, i),
    {
      initialValues: new Array(parameterCount).fill(0),
      jacobianFunction: (parameters) => (i) => gradient(parameters, i),
      minValues: bounds(-1),
      maxValues: bounds(1),
      maxIterations: ITERATIONS,
      errorTolerance: 1e-12,
    },
  );
  const jacobian = new Matrix(windows.map((_, i) => gradient(parameterValues, i)));
  const information = jacobian.transpose().mmul(jacobian);
  const squares = (rows: Matrix) =>
    windows.reduce((at, _, i) => at + (rows.get(i, 0) - predicted(rows, parameterValues, i)) ** 2, 0);
  const whiteSquares = Math.max(squares(white), Number.MIN_VALUE);
  const freedom = count - parameterCount;
  return {
    logs: parameterValues.slice(0, free),
    covariance: inverse(information, true).mul(whiteSquares / freedom),
    logWeight:
      Math.log(noise.chance) -
      0.5 * (noise.logDeterminant + logDeterminant(information) + freedom * Math.log(whiteSquares)),
    rmsResidualM: Math.sqrt(squares(raw) / count),
  };
}

function logDeterminant(symmetric: Matrix): number {
  const pivots = new CholeskyDecomposition(symmetric).lowerTriangularMatrix.diagonal();
  return 2 * pivots.reduce((sum, pivot) => sum + Math.log(Math.max(pivot, Number.MIN_VALUE)), 0);
}
