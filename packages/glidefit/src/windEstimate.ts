// The wind that ground track, heading and airspeed of a glide tell of, how sure it is, and whether the airspeed fits it.
import type { Runway, Wind } from '@stillprop/contracts';
import { compassDeg, M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from '@stillprop/physics';
import { inverse, Matrix } from 'ml-matrix';
import { driftWindows } from './driftWindows.js';
import type { GlideColumns } from './glideColumns.js';
import type { Segment } from './glideSegments.js';
import { type NoiseModel, noiseModels, whitened } from './noiseModels.js';
import { averaged, type Estimate, logDeterminant, type Weighted } from './restrictedLikelihood.js';
import { heightsOf, type WindChange, type WindLevels } from './windChange.js';

/**
 * Less of a turn than this leaves an error of the airspeed looking like wind (rad). Straight on, an airspeed ε too
 * high is a headwind of ε·V; after a right angle that wind would have to blow from the side, where there is none.
 */
const LEAST_TURN_RAD = 90 * RAD_PER_DEG;

export interface WindEstimate {
  /** At the lowest and highest height flown; one wind where they lie close together. */
  readonly winds: readonly Wind[];
  /** What is known of the change of the wind between the two heights. */
  readonly change: WindChange;
  /** Airspeed by the ground track over airspeed recorded; null without enough turn. */
  readonly airspeedRatio: { readonly value: number; readonly standardError: number } | null;
  readonly turnedDeg: number;
}

/**
 * Generalised least squares of the way made over the ground: x = x0 + s·R(δ)·∫V_air dt + ∫w(h) dt, with s an error of
 * the airspeed, δ one of the heading (magnetic instead of true, say), w linear in the logarithm of height up to
 * 1000 ft, as in `windProfile`. In a turn of less than 90° s = 1 and δ = 0 are held. The track comes from the
 * positions, which every recording has.
 *
 * Neighbouring residuals are not independent: gusts, errors of the airspeed and a wind that is no straight line in
 * the logarithm drift the aeroplane for many samples on end. So the noise is that of `noiseModels`: white for the
 * positions, and a wandering with memory for the rest, averaged over by restricted likelihood.
 */
export function estimateWind(columns: GlideColumns, segments: readonly Segment[], runway: Runway): WindEstimate {
  const levels = heightsOf(columns, segments);
  const turnedRad = Math.max(...segments.map((segment) => turnOf(columns, segment)));
  const free = turnedRad >= LEAST_TURN_RAD;
  const { mean, covariance } = driftFit(columns, segments, runway, levels, free);
  const from = free ? 2 : 0;
  const count = levels.twoLevels ? 2 : 1;
  const winds = Array.from({ length: count }, (_, level): Wind => {
    const north = mean[from + level] as number;
    const east = mean[from + count + level] as number;
    return {
      heightFt: (levels.twoLevels && level === 0 ? levels.lowM : levels.highM) / M_PER_FT,
      fromTrueDeg: compassDeg(Math.atan2(-east, -north)),
      speedKt: Math.hypot(north, east) / MPS_PER_KT,
    };
  });
  return {
    winds,
    change: { ...levels, covariance: changeCovariance() },
    airspeedRatio: free
      ? {
          value: Math.hypot(mean[0] as number, mean[1] as number),
          standardError: Math.sqrt(covariance.get(0, 0)),
        }
      : null,
    turnedDeg: turnedRad / RAD_PER_DEG,
  };

  function changeCovariance(): WindChange['covariance'] {
    if (levels.twoLevels) {
      const apart = (a: number, b: number) =>
        covariance.get(a + 1, b + 1) - covariance.get(a + 1, b) - covariance.get(a, b + 1) + covariance.get(a, b);
      const [north, east] = [from, from + 2];
      return [
        [apart(north, north), apart(north, east)],
        [apart(east, north), apart(east, east)],
      ];
    }
    const assumed = levels.logLawShare * Math.hypot(mean[from] as number, mean[from + 1] as number);
    return [
      [assumed ** 2, 0],
      [0, assumed ** 2],
    ];
  }
}

/** Parameters: s·cosδ and s·sinδ if free, the wind at each level to the north, the same to the east (m/s). */
function driftFit(
  columns: GlideColumns,
  segments: readonly Segment[],
  runway: Runway,
  { twoLevels, shareAt }: WindLevels,
  free: boolean,
): Estimate {
  const windows = driftWindows(columns, segments, runway, shareAt);
  const rows = (axis: 'north' | 'east') =>
    windows.map((at) => {
      const levels = twoLevels ? [at.timeS - at.shareS, at.shareS] : [at.timeS];
      const starts = segments.map((_, s) => (s === at.segment ? 1 : 0));
      const onAxis = (of: readonly number[]) => {
        const none = of.map(() => 0);
        return axis === 'north' ? [...of, ...none] : [...none, ...of];
      };
      const air = axis === 'north' ? [at.airNorthM, -at.airEastM] : [at.airEastM, at.airNorthM];
      const ground = axis === 'north' ? at.groundNorthM : at.groundEastM;
      const [target, turning] = free ? [ground, air] : [ground - (air[0] as number), []];
      return [target, ...turning, ...onAxis(levels), ...onAxis(starts)];
    });
  const [north, east] = [new Matrix(rows('north')), new Matrix(rows('east'))];
  return averaged(
    noiseModels(windows).map((noise) => {
      const white = new Matrix([north, east].flatMap((axis) => whitened(noise, axis).to2DArray()));
      return linearFit(noise, white);
    }),
  );
}

/** Linear least squares of the first column by the others, both axes of it under the same noise. */
function linearFit(noise: NoiseModel, white: Matrix): Weighted {
  const design = white.subMatrixColumn(Array.from({ length: white.columns - 1 }, (_, k) => k + 1));
  const target = white.subMatrixColumn([0]);
  const information = design.transpose().mmul(design);
  const spread = inverse(information, true);
  const solved = spread.mmul(design.transpose().mmul(target));
  const misfit = Matrix.sub(target, design.mmul(solved));
  const freedom = Math.max(design.rows - design.columns, 1);
  const squares = Math.max(misfit.dot(misfit), Number.MIN_VALUE);
  return {
    mean: solved.getColumn(0),
    covariance: spread.mul(squares / freedom),
    logWeight:
      Math.log(noise.chance) - noise.logDeterminant - 0.5 * (logDeterminant(information) + freedom * Math.log(squares)),
  };
}

/** Heading turned between the two ends of a stretch that lie farthest apart (rad). */
function turnOf({ headingRad }: GlideColumns, { first, last }: Segment): number {
  let heading = 0;
  let least = 0;
  let most = 0;
  for (let i = first + 1; i <= last; i++) {
    const change = (headingRad[i] as number) - (headingRad[i - 1] as number);
    heading += Math.atan2(Math.sin(change), Math.cos(change));
    least = Math.min(least, heading);
    most = Math.max(most, heading);
  }
  return most - least;
}
