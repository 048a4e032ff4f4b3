// The wind that ground track, heading and airspeed of a glide tell of, and whether the airspeed recorded fits them.
import { type Runway, toRunwayFrame, type Wind } from '@stillprop/contracts';
import { compassDeg, M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from '@stillprop/physics';
import { inverse, Matrix, solve } from 'ml-matrix';
import type { GlideColumns } from './glideColumns.js';
import type { Segment } from './glideSegments.js';

/** Ground velocities are means over this span (s). */
const SPAN_S = 2;
/** Less of a turn than this leaves an error of the airspeed looking like wind (rad). */
const LEAST_TURN_RAD = 90 * RAD_PER_DEG;
/** Winds at two heights are told apart where the higher is this much higher. */
const TWO_LEVELS = 1.5;
/** The wind is taken as growing with height up to here only, like the log law (MIL-F-8785C) of `windProfile`. */
const GROWS_TO_M = 1000 * M_PER_FT;

export interface WindEstimate {
  /** At the lowest and highest height flown; one wind where they lie close together. */
  readonly winds: readonly Wind[];
  /** Airspeed by the ground track over airspeed recorded; null without enough turn. */
  readonly airspeedRatio: { readonly value: number; readonly standardError: number } | null;
  readonly turnedDeg: number;
}

interface Row {
  readonly heightM: number;
  /** Velocity over the ground and through the air, mean of the span (m/s). */
  readonly groundNorth: number;
  readonly groundEast: number;
  readonly airNorth: number;
  readonly airEast: number;
}

/**
 * Linear least squares of V_ground = s·R(δ)·V_air + w(h): s an error of the airspeed, δ one of the heading (magnetic
 * instead of true, say), w linear in the logarithm of height up to 1000 ft, as in `windProfile`. In a turn of less than
 * 90° s = 1 and δ = 0 are held. The track comes from the positions, which every recording has.
 */
export function estimateWind(columns: GlideColumns, segments: readonly Segment[], runway: Runway): WindEstimate {
  const rows = segments.flatMap((segment) => rowsOf(columns, segment, runway));
  // Levels at the very ends of the glide: a profile is held beyond its levels, and a gradient would be lost there.
  const heights = segments.flatMap(({ first, last }) => [...columns.heightM.subarray(first, last + 1)]);
  const lowM = heights.reduce((a, b) => Math.min(a, b));
  const highM = Math.min(
    heights.reduce((a, b) => Math.max(a, b)),
    GROWS_TO_M,
  );
  const twoLevels = highM > TWO_LEVELS * lowM;
  const turnedRad = Math.max(...segments.map((segment) => turnOf(columns, segment)));
  const free = turnedRad >= LEAST_TURN_RAD;
  const equations: number[][] = [];
  const right: number[] = [];
  for (const row of rows) {
    const share = twoLevels ? Math.log(Math.min(row.heightM, highM) / lowM) / Math.log(highM / lowM) : 1;
    const levels = twoLevels ? [1 - share, share] : [1];
    const none = levels.map(() => 0);
    const north = free ? [row.airNorth, -row.airEast] : [];
    const east = free ? [row.airEast, row.airNorth] : [];
    equations.push([...north, ...levels, ...none], [...east, ...none, ...levels]);
    right.push(row.groundNorth - (free ? 0 : row.airNorth), row.groundEast - (free ? 0 : row.airEast));
  }
  const matrix = new Matrix(equations);
  const target = Matrix.columnVector(right);
  const solved = solve(matrix, target, true);
  const levels = twoLevels ? 2 : 1;
  const from = free ? 2 : 0;
  const winds = Array.from({ length: levels }, (_, level): Wind => {
    const north = solved.get(from + level, 0);
    const east = solved.get(from + levels + level, 0);
    return {
      heightFt: (twoLevels && level === 0 ? lowM : highM) / M_PER_FT,
      fromTrueDeg: compassDeg(Math.atan2(-east, -north)),
      speedKt: Math.hypot(north, east) / MPS_PER_KT,
    };
  });
  const turnedDeg = turnedRad / RAD_PER_DEG;
  if (!free) return { winds, airspeedRatio: null, turnedDeg };
  const misfit = Matrix.sub(target, matrix.mmul(solved));
  const variance = misfit.dot(misfit) / Math.max(right.length - matrix.columns, 1);
  const spread = inverse(matrix.transpose().mmul(matrix), true);
  return {
    winds,
    airspeedRatio: {
      value: Math.hypot(solved.get(0, 0), solved.get(1, 0)),
      standardError: Math.sqrt(variance * spread.get(0, 0)),
    },
    turnedDeg,
  };
}

function rowsOf(columns: GlideColumns, { first, last }: Segment, runway: Runway): Row[] {
  const { timeS, heightM, tasMps, headingRad, samples } = columns;
  const rows: Row[] = [];
  const start = samples[first];
  if (start === undefined) return rows;
  // North and east of the first sample: the runway frame of a runway that points north from there.
  const frame = { ...runway, headingTrueDeg: 0, start };
  const place = (i: number) => {
    const sample = samples[i] ?? start;
    return toRunwayFrame(frame, sample.latitudeDeg, sample.longitudeDeg);
  };
  for (let from = first; from < last; ) {
    let to = from + 1;
    let northM = 0;
    let eastM = 0;
    while (to < last && (timeS[to] as number) - (timeS[from] as number) < SPAN_S - 1e-6) to++;
    const spanS = (timeS[to] as number) - (timeS[from] as number);
    if (spanS < SPAN_S - 1e-6) break;
    // Of the span, not of single samples: a foot of noise between two of them would look like a dive.
    const climbMps = ((heightM[to] as number) - (heightM[from] as number)) / spanS;
    for (let i = from; i <= to; i++) {
      const tas = tasMps[i] as number;
      const dtS = ((timeS[Math.min(i + 1, to)] as number) - (timeS[Math.max(i - 1, from)] as number)) / 2;
      const horizontal = Math.sqrt(Math.max(tas * tas - climbMps * climbMps, 0));
      northM += horizontal * Math.cos(headingRad[i] as number) * dtS;
      eastM += horizontal * Math.sin(headingRad[i] as number) * dtS;
    }
    const before = place(from);
    const after = place(to);
    rows.push({
      heightM: ((heightM[from] as number) + (heightM[to] as number)) / 2,
      groundNorth: ((after.alongFt - before.alongFt) * M_PER_FT) / spanS,
      groundEast: ((after.acrossFt - before.acrossFt) * M_PER_FT) / spanS,
      airNorth: northM / spanS,
      airEast: eastM / spanS,
    });
    from = to;
  }
  return rows;
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
