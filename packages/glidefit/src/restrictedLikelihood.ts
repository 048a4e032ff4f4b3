// Fits under several assumed noises made into one: averaged by how likely each noise is, the doubt between them included.
import { CholeskyDecomposition, Matrix } from 'ml-matrix';

export interface Estimate {
  readonly mean: readonly number[];
  readonly covariance: Matrix;
}

/** The estimate under one assumed noise. */
export interface Weighted extends Estimate {
  /**
   * Logarithm of its weight, up to what all have in common: ln of the chance beforehand plus the restricted likelihood
   * -½·(ln|V| + ln|XᵀV⁻¹X| + f·ln rᵀV⁻¹r), V the covariance of the noise, X the Jacobian, r the misfit, f the degrees
   * of freedom, with the size of the noise integrated out.
   *
   * @see Patterson and Thompson, Biometrika 58, 1971, 545 (from memory).
   */
  readonly logWeight: number;
}

/** Mean and covariance of the mixture: the mean of the covariances plus the covariance of the means. */
export function averaged(estimates: readonly Weighted[]): Estimate {
  const best = estimates.reduce((most, { logWeight }) => Math.max(most, logWeight), Number.NEGATIVE_INFINITY);
  const weights = estimates.map(({ logWeight }) => Math.exp(logWeight - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const count = estimates[0]?.mean.length ?? 0;
  const mean = Array.from(
    { length: count },
    (_, k) => estimates.reduce((sum, { mean: at }, i) => sum + (weights[i] as number) * (at[k] as number), 0) / total,
  );
  const covariance = Matrix.zeros(count, count);
  estimates.forEach((estimate, i) => {
    const share = (weights[i] as number) / total;
    const apart = Matrix.columnVector(estimate.mean.map((value, k) => value - (mean[k] as number)));
    covariance.add(Matrix.add(estimate.covariance, apart.mmul(apart.transpose())).mul(share));
  });
  return { mean, covariance };
}

export function logDeterminant(symmetric: Matrix): number {
  const pivots = new CholeskyDecomposition(symmetric).lowerTriangularMatrix.diagonal();
  return 2 * pivots.reduce((sum, pivot) => sum + Math.log(Math.max(pivot, Number.MIN_VALUE)), 0);
}
