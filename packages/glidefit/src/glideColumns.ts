// The samples of a recording as columns in SI, in time order, with true airspeed and load factor worked out.
import type { Recording, Sample } from '@stillprop/contracts';
import {
  type DayAir,
  dayAir,
  loadFactorOfPath,
  M_PER_FT,
  MPS_PER_FPM,
  MPS_PER_KT,
  pathAngleRad,
  RAD_PER_DEG,
  trueAirspeedAt,
} from '@stillprop/physics';

/** Half the span over which the rate of the flight path is taken where no load factor is recorded (s). */
const PATH_RATE_HALF_S = 0.5;

export interface GlideColumns {
  readonly samples: readonly Sample[];
  readonly timeS: Float64Array;
  /** Altitude above the runway's elevation (m): wind and density count from there. */
  readonly heightM: Float64Array;
  readonly tasMps: Float64Array;
  readonly densityKgM3: Float64Array;
  readonly climbMps: Float64Array;
  readonly bankRad: Float64Array;
  readonly headingRad: Float64Array;
  /** Lift over weight. */
  readonly loadFactor: Float64Array;
  readonly loadFactorFrom: 'recorded' | 'estimated';
}

/** Columns of a recording: one sample a moment (the later of two), sorted where a datagram came late. */
export function glideColumns(recording: Recording): GlideColumns {
  const { runway, weather } = recording.header;
  const sorted = [...recording.samples].sort((a, b) => a.timeS - b.timeS);
  const samples = sorted.filter((sample, i) => sorted[i + 1]?.timeS !== sample.timeS);
  const air: DayAir = dayAir(weather, runway.elevationFt);
  const column = (value: (sample: Sample, index: number) => number) => Float64Array.from(samples, value);
  const timeS = column((sample) => sample.timeS);
  const heightM = column((sample) => (sample.altitudeFt - runway.elevationFt) * M_PER_FT);
  const densityKgM3 = heightM.map((height) => air.densityKgM3(height));
  const hasTas = samples.every((sample) => sample.trueAirspeedKt !== undefined);
  const tasMps = column((sample, i) =>
    hasTas
      ? (sample.trueAirspeedKt as number) * MPS_PER_KT
      : trueAirspeedAt(air, sample.indicatedAirspeedKt * MPS_PER_KT, heightM[i] as number),
  );
  const climbMps = column((sample) => sample.verticalSpeedFpm * MPS_PER_FPM);
  const bankRad = column((sample) => sample.bankDeg * RAD_PER_DEG);
  const hasLoad = samples.every((sample) => sample.loadFactor !== undefined);
  return {
    samples,
    timeS,
    heightM,
    tasMps,
    densityKgM3,
    climbMps,
    bankRad,
    headingRad: column((sample) => sample.headingDeg * RAD_PER_DEG),
    loadFactor: hasLoad
      ? column((sample) => sample.loadFactor as number)
      : pathLoadFactors(timeS, tasMps, climbMps, bankRad),
    loadFactorFrom: hasLoad ? 'recorded' : 'estimated',
  };
}

/**
 * Slope of a column against time at each sample, by the straight line through the samples within ±`halfS`.
 */
export function slopes(timeS: Float64Array, column: Float64Array, halfS: number): Float64Array {
  let first = 0;
  let end = 0;
  return timeS.map((atS) => {
    while ((timeS[first] as number) < atS - halfS) first++;
    while (end < timeS.length && (timeS[end] as number) <= atS + halfS) end++;
    const count = end - first;
    let meanT = 0;
    let meanY = 0;
    for (let i = first; i < end; i++) {
      meanT += ((timeS[i] as number) - atS) / count;
      meanY += (column[i] as number) / count;
    }
    let covariance = 0;
    let variance = 0;
    for (let i = first; i < end; i++) {
      const offset = (timeS[i] as number) - atS - meanT;
      covariance += offset * ((column[i] as number) - meanY);
      variance += offset * offset;
    }
    return variance > 0 ? covariance / variance : 0;
  });
}

/** Load factor of the path flown, its rate taken over ±0.5 s. */
function pathLoadFactors(
  timeS: Float64Array,
  tasMps: Float64Array,
  climbMps: Float64Array,
  bankRad: Float64Array,
): Float64Array {
  const pathRad = timeS.map((_, i) => pathAngleRad(climbMps[i] as number, tasMps[i] as number));
  const rates = slopes(timeS, pathRad, PATH_RATE_HALF_S);
  return timeS.map((_, i) =>
    loadFactorOfPath(pathRad[i] as number, rates[i] as number, tasMps[i] as number, bankRad[i] as number),
  );
}
