// Fits the glide in a recording: from its samples to figures with uncertainties, or one sentence why it cannot be.
import type { Parsed, Recording, Wind } from '@stillprop/contracts';
import {
  calibratedFromTrue,
  checkAircraft,
  checkWeather,
  compassDeg,
  deriveAeroplane,
  M_PER_FT,
  MPS_PER_KT,
  windProfile,
} from '@stillprop/physics';
import { channelCautions, doubts, sentenceOf, turnCautions } from './cautions.js';
import { energyWindows } from './energyWindows.js';
import { figuresOf } from './figures.js';
import { flownRange, rangeCautions } from './flownRange.js';
import { type GlideColumns, glideColumns } from './glideColumns.js';
import type { FitOptions, FittedWind, GlideFit, WindSource } from './glideFit.js';
import { glideSegments, type Segments } from './glideSegments.js';
import { fitPolar } from './polarFit.js';
import { estimateWind } from './windEstimate.js';

/** Less than this of usable glide cannot be fitted (s). */
const LEAST_GLIDE_S = 20;
/** Twice a second, less a datagram lost now and then: slower, and a roll into a turn falls between two samples. */
const LEAST_RATE_HZ = 1.9;
/** Rows beyond one for each stretch without which two coefficients and their uncertainty cannot be had. */
const LEAST_ROWS = 6;
/** Drag less certain than this (standard error of its logarithm), or this far from the handbook's, is no answer. */
const MOST_UNCERTAIN = 0.5;
const FARTHEST = 2;
const NO_ERROR = [
  [0, 0],
  [0, 0],
] as const;

/**
 * Best glide, polar and propeller factor of the aeroplane that flew a recording, each with its standard error and
 * 95 % interval, beside those of the aircraft file in the recording.
 *
 * Energy-height method: see `energyWindows` for the equation, `fitPolar` for the estimate and its uncertainty. CD0 and
 * the drag of the dead propeller are one sum here: no glide in one propeller state can part them.
 *
 * @returns The fit, or the problem: field, value, and what would be right.
 */
export function fitGlide(recording: Recording, options: FitOptions = {}): Parsed<GlideFit> {
  const { header } = recording;
  const { aircraft, runway, weather, drawn } = header;
  const source: WindSource = options.wind ?? 'known';
  const refusal = rangeProblem(recording, options);
  if (refusal !== null) return refusal;
  let columns: GlideColumns;
  try {
    checkAircraft(aircraft);
    checkWeather(weather);
    columns = glideColumns(recording);
  } catch (error) {
    if (error instanceof RangeError) return refuse(error.message.split(' ')[0] ?? 'header', error.message);
    throw error;
  }
  const plane = deriveAeroplane(aircraft);
  const fromS = options.fromS ?? Number.NEGATIVE_INFINITY;
  const toS = options.toS ?? Number.POSITIVE_INFINITY;
  const ranged = options.fromS !== undefined;
  const chosen = glideSegments(recording, columns, plane, fromS, toS, ranged);
  const { segments } = chosen;
  const { timeS } = columns;
  const spanS = segments.reduce((sum, { first, last }) => sum + (timeS[last] as number) - (timeS[first] as number), 0);
  if (spanS < LEAST_GLIDE_S) return refuse('samples', tooShort(spanS, chosen));
  const samples = segments.reduce((sum, { first, last }) => sum + last - first + 1, 0);
  if ((samples - segments.length) / spanS < LEAST_RATE_HZ)
    return refuse('samples', `samples must come twice a second or more, got ${(samples / spanS).toFixed(1)} a second`);

  const estimate = estimateWind(columns, segments, runway);
  const winds = source === 'known' ? weather.winds : estimate.winds;
  const northWinds = windProfile(winds, 0);
  const windows = energyWindows(columns, segments, plane, northWinds, estimate.change.shareAt);
  if (windows.length < segments.length + LEAST_ROWS) return refuse('samples', tooShort(spanS, chosen));
  const propellerDrag = plane.propellerDrag[drawn.propeller];
  const expected = { ...plane, dragZeroLift: plane.dragZeroLift + (propellerDrag ?? 0) };
  const polar = fitPolar(windows, expected, source === 'known' ? NO_ERROR : estimate.change.covariance);
  const used = segments.flatMap(({ first, last }) => Array.from({ length: last - first + 1 }, (_, k) => first + k));
  const heights = used.map((i) => columns.heightM[i] as number);
  const middleFt = (lowest(heights) + highest(heights)) / 2 / M_PER_FT;
  const wind: FittedWind = {
    source,
    ...windAt(winds, middleFt),
    airspeedRatio: estimate.airspeedRatio,
  };
  const doubted = doubts(wind, estimate, windAt(estimate.winds, middleFt));
  const advice =
    doubted.length === 0
      ? 'choose a longer or smoother stretch without power'
      : doubted.map(({ clause }) => clause).join('; ');
  const apart = Math.log(polar.dragZeroLift / expected.dragZeroLift);
  if (!(Math.sqrt(polar.covariance[0][0]) < MOST_UNCERTAIN && Math.abs(apart) < FARTHEST))
    return refuse(
      'samples',
      `samples must be of a glide whose drag can be told, got ${Math.exp(apart).toFixed(2)} times the zero-lift drag expected, uncertain by a factor of ${Math.exp(2 * Math.sqrt(polar.covariance[0][0])).toFixed(1)}: ${advice}`,
    );
  const kcas = used.map(
    (i) => calibratedFromTrue(columns.tasMps[i] as number, columns.densityKgM3[i] as number) / MPS_PER_KT,
  );
  const flown = flownRange(columns, used, plane, polar);
  const slowestKcas = lowest(kcas);
  const fastestKcas = highest(kcas);
  const handbookFactor = aircraft.propellerSinkFactor[aircraft.bestGlidePropeller] ?? 1;
  const held: string[] = [];
  if (polar.inducedHeld)
    held.push(
      `Induced drag (K) is the handbook's: this glide, at ${slowestKcas.toFixed(0)} to ${fastestKcas.toFixed(0)} kt, does not tell it apart from the rest of the drag. The other intervals allow for it being 30 % off; glide at two or more speeds, in smooth air, to have it fitted.`,
    );
  const configurationDrag = segments[0]?.configurationDrag ?? 0;
  if (configurationDrag > 0)
    held.push(
      `The glide was flown with gear or flap down: their drag (${configurationDrag.toFixed(3)}) is the aircraft file's and was taken off.`,
    );
  return {
    ok: true,
    value: {
      cautions: [
        ...doubted.map(sentenceOf),
        ...rangeCautions(flown),
        ...turnCautions(wind, estimate),
        ...channelCautions(columns, chosen, { gear: plane.gearDrag > 0, flap: plane.flapDrag > 0 }, drawn),
        ...(propellerDrag === undefined
          ? [
              `The aircraft file has no sink factor for the propeller state "${drawn.propeller}": what is expected is its glide with the propeller ${aircraft.bestGlidePropeller}.`,
            ]
          : []),
      ],
      held,
      ...figuresOf(polar, expected, plane, handbookFactor, doubted, flown.bestGlideInside),
      propeller: drawn.propeller,
      wind,
      segments: segments.map(({ first, last }) => ({ fromS: timeS[first] as number, toS: timeS[last] as number })),
      samples,
      windows: windows.length,
      rmsResidualFt: polar.rmsResidualM / M_PER_FT,
      slowestKcas,
      fastestKcas,
      largestLoadFactor: highest(used.map((i) => columns.loadFactor[i] as number)),
      flown,
    },
  };
}

/** Without a loop a long recording would overflow the stack of `Math.min`. */
function lowest(values: readonly number[]): number {
  return values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
}

function highest(values: readonly number[]): number {
  return values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
}

function windAt(winds: readonly Wind[], heightFt: number): Pick<FittedWind, 'heightFt' | 'fromTrueDeg' | 'speedKt'> {
  const components = new Float64Array(2);
  windProfile(winds, 0).sample(heightFt * M_PER_FT, components);
  const [north = 0, east = 0] = components;
  return {
    heightFt,
    fromTrueDeg: compassDeg(Math.atan2(-east, -north)),
    speedKt: Math.hypot(north, east) / MPS_PER_KT,
  };
}

function refuse(field: string, message: string) {
  return { ok: false, problem: { field, message } } as const;
}

function rangeProblem({ samples }: Recording, { fromS, toS, wind }: FitOptions) {
  const times = samples.map((sample) => sample.timeS);
  if (times.length === 0) return refuse('samples', 'samples must hold a glide, got none');
  const firstS = lowest(times);
  const lastS = highest(times);
  const range = `${firstS.toFixed(1)} to ${lastS.toFixed(1)} s, as the recording`;
  for (const [field, value] of [['fromS', fromS] as const, ['toS', toS] as const])
    if (value !== undefined && !(value >= firstS && value <= lastS))
      return refuse(field, `${field} must be ${range}, got ${value}`);
  if (fromS !== undefined && toS !== undefined && !(toS > fromS))
    return refuse('toS', `toS must be after fromS (${fromS} s), got ${toS}`);
  if (wind !== undefined && wind !== 'known' && wind !== 'estimated')
    return refuse('wind', `wind must be known or estimated, got ${JSON.stringify(wind)}`);
  return null;
}

function tooShort(spanS: number, { reasons, powerFrom }: Segments): string {
  const got = `got ${spanS.toFixed(0)} s`;
  if (powerFrom === 'assumed' && spanS === 0)
    return `samples must tell that the engine is dead (powerFraction, or the event of a total failure), or fromS must say where the glide begins; ${got} of glide`;
  const why = reasons.map(({ reason, samples }) => `${samples} ${reason}`).join(', ');
  return `samples must hold ${LEAST_GLIDE_S} s or more of glide with a dead engine, ${got}${why === '' ? '' : `; samples left out: ${why}`}`;
}
