// Least squares for the two coefficients of a parabolic polar, with an uncertainty that allows for noise with memory.
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { inverse, Matrix } from 'ml-matrix';
import type { EnergyWindow } from './energyWindows.js';
import { type NoiseModel, noiseModels, whitened } from './noiseModels.js';
import { averaged, logDeterminant, type Weighted } from './restrictedLikelihood.js';
import type { WindChange } from './windChange.js';

/** Coefficients are looked for within a factor of e³ of the handbook's. */
const WIDEST = 3;
const ITERATIONS = 20;
/** Induced drag less certain than this (standard error of ln K) is not told from zero-lift drag: K is held. */
const LEAST_CERTAIN = 0.25;
/**
 * How far the K of an aeroplane may be from its handbook's (standard deviation of ln K). K = 1/(π·A·e), the aspect
 * ratio A is known, and Oswald's e lies between 0.6 and 0.9 for light aeroplanes (e of 0.7 to 0.85 as usual in
 * textbooks such as Raymer's, from memory): ±20 % of the middle, at two deviations ±30 %.
 */
const HELD_INDUCED_ERROR = 0.15;
/**
 * What the method itself is wrong by (standard deviation of each logarithm): integrals over samples, energy height
 * without vertical accelerations. Glides without any noise come back within this (tests).
 */
const METHOD_ERROR = 0.001;

export interface Polar {
  readonly dragZeroLift: number;
  readonly inducedFactor: number;
}

export interface PolarFit extends Polar {
  /** Covariance of ln CD0 and ln K; where K was held, that of the handbook's K and what follows for CD0. */
  readonly covariance: readonly [readonly [number, number], readonly [number, number]];
  readonly inducedHeld: boolean;
  readonly degreesOfFreedom: number;
  readonly rmsResidualM: number;
}

interface Solution extends Weighted {
  readonly rmsResidualM: number;
}

/**
 * Fits ln CD0 and ln K (each beside a handbook value to start from) and one energy height for each stretch.
 *
 * For each assumed noise the windows are whitened and fitted by Levenberg and Marquardt's method, with the covariance
 * s²·(JᵀJ)⁻¹. The fits are then averaged by their restricted likelihood (`Weighted`), so that the covariance told
 * holds both the uncertainty under each noise and that of not knowing the noise: with plain least squares the errors
 * would come out several times too small in moving air.
 *
 * What was estimated beforehand, or taken from the handbook, is uncertain too, and that goes on into the answer: with
 * S = (JᵀJ)⁻¹Jᵀ·∂y/∂w, the change of the answer with such a quantity w, its covariance C adds S·C·Sᵀ. Here w is the
 * change of the wind with height and, where it is held, ln K.
 *
 * @param windCovariance Of the change of the wind between the two heights of the windows ((m/s)²); 0 where known.
 * @param hold Holds K whatever the data say; found out from the data when absent.
 * @see Greene, Econometric Analysis, two-step estimation after Murphy and Topel (Journal of Business and Economic
 *   Statistics 3, 1985, 370), and JCGM 100:2008 (GUM), 5.1.2 and 5.2.2, for the propagation; both from memory.
 */
export function fitPolar(
  windows: readonly EnergyWindow[],
  handbook: Polar,
  windCovariance: WindChange['covariance'],
  hold = false,
): PolarFit {
  const segments = [...new Set(windows.map(({ segment }) => segment))];
  const freedom = windows.length - 2 - segments.length;
  if (freedom < 4) throw new RangeError(`windows must be at least ${2 + segments.length + 4}, got ${windows.length}`);
  const noises = noiseModels(windows);
  const fit = (held: boolean): PolarFit => {
    const solutions = noises.map((noise) => solve(windows, segments, handbook, noise, windCovariance, held));
    const { mean, covariance } = averaged(solutions);
    if (!held && !(Math.sqrt(covariance.get(1, 1)) < LEAST_CERTAIN)) return fit(true);
    const method = METHOD_ERROR ** 2;
    return {
      dragZeroLift: handbook.dragZeroLift * Math.exp(mean[0] ?? 0),
      inducedFactor: handbook.inducedFactor * Math.exp(mean[1] ?? 0),
      covariance: [
        [covariance.get(0, 0) + method, covariance.get(0, 1)],
        [covariance.get(1, 0), covariance.get(1, 1) + method],
      ],
      inducedHeld: held,
      degreesOfFreedom: freedom,
      rmsResidualM: solutions.reduce((a, b) => (b.logWeight > a.logWeight ? b : a)).rmsResidualM,
    };
  };
  return fit(hold);
}

/** One fit under one noise. Parameters: ln CD0 and, unless held, ln K, over the start; then the energy heights (m). */
function solve(
  windows: readonly EnergyWindow[],
  segments: readonly number[],
  start: Polar,
  noise: NoiseModel,
  windCovariance: WindChange['covariance'],
  held: boolean,
): Solution {
  const free = held ? 1 : 2;
  const raw = new Matrix(
    windows.map(({ energyM, zeroLiftM, inducedM, windNorthM, windEastM, segment }) => [
      energyM,
      -zeroLiftM * start.dragZeroLift,
      -inducedM * start.inducedFactor,
      ...segments.map((other) => (other === segment ? 1 : 0)),
      windNorthM,
      windEastM,
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
  const spread = inverse(information, true);
  const answerTo = spread.mmul(jacobian.transpose());
  const covariance = Matrix.mul(spread, whiteSquares / freedom).subMatrix(0, free - 1, 0, free - 1);
  const toWind = answerTo.mmul(white.subMatrixColumn([white.columns - 2, white.columns - 1]));
  const toWindOfDrag = toWind.subMatrix(0, free - 1, 0, 1);
  covariance.add(toWindOfDrag.mmul(new Matrix(windCovariance.map((row) => [...row]))).mmul(toWindOfDrag.transpose()));
  const toInduced = held ? -answerTo.mmul(white.subMatrixColumn([2])).get(0, 0) : 0;
  return {
    mean: held ? [parameterValues[0] ?? 0, 0] : parameterValues.slice(0, 2),
    covariance: held ? withHeldInduced(covariance.get(0, 0), toInduced) : covariance,
    logWeight:
      Math.log(noise.chance) -
      0.5 * (noise.logDeterminant + logDeterminant(information) + freedom * Math.log(whiteSquares)),
    rmsResidualM: Math.sqrt(squares(raw) / count),
  };
}

/** @param toInduced Change of ln CD0 for one of the ln K held. */
function withHeldInduced(variance: number, toInduced: number): Matrix {
  const induced = HELD_INDUCED_ERROR ** 2;
  return new Matrix([
    [variance + toInduced ** 2 * induced, toInduced * induced],
    [toInduced * induced, induced],
  ]);
}
