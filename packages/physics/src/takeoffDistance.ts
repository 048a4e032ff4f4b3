// Take-off distance to 50 ft on the day: the handbook's, factored for surface, slope, height, warmth and wind.
import { dayAir, trueFromCalibrated } from './atmosphere.js';
import type { AircraftNumbers, RunwayNumbers, Surface, WeatherNumbers } from './request.js';
import { standardAir } from './standardAir.js';
import { KELVIN_AT_0C, M_PER_FT, MPS_PER_KT } from './units.js';
import { windProfile } from './wind.js';

/** UK CAA Safety Sense Leaflet 7, take-off: dry grass 1.20, wet grass 1.30. Wet paving is given no factor. */
const TAKEOFF_SURFACE_FACTOR: { readonly [surface in Surface]: number } = {
  paved: 1,
  'dry-grass': 1.2,
  'wet-paved': 1,
  'wet-grass': 1.3,
};
/** The same leaflet: a tenth more for each 2 % uphill, each 1 000 ft of elevation and each 10 °C above standard. */
const PER_SLOPE_PERCENT = 0.05;
const PER_FT = 0.1 / 1_000;
const PER_C = 0.01;
/** Speed of lift-off that the wind is held against, in stall speeds; common practice, no source. */
const LIFTOFF_STALLS = 1.15;
/** Height of a surface wind (m). */
const SURFACE_M = 10;

/** One factor on a take-off distance, and what it is for. */
export interface TakeoffFactor {
  readonly because: 'surface' | 'slope' | 'elevation' | 'temperature' | 'wind';
  readonly factor: number;
}

/**
 * Distance from brake release to 50 ft today (ft). `aircraft.takeoffTo50FtFt` itself when it is said to be today's
 * (`takeoffFigure` absent or `today`); else it is taken as the handbook's for still air, sea level, 15 °C, level dry
 * paving at the mass flown, and factored. No credit is given for a downhill run, a low field or a cold day. Wind: the
 * square of groundspeed over airspeed at lift-off (FAA-H-8083-25C ch. 11).
 */
export function takeoffTo50FtToday(
  aircraft: AircraftNumbers,
  runway: RunwayNumbers,
  weather: WeatherNumbers,
): { readonly distanceFt: number; readonly factors: readonly TakeoffFactor[] } {
  if (aircraft.takeoffFigure !== 'handbook') return { distanceFt: aircraft.takeoffTo50FtFt, factors: [] };
  const air = dayAir(weather, runway.elevationFt);
  const standardC = standardAir(air.pressureHeightM).temperatureK - KELVIN_AT_0C;
  const liftoffKcas =
    LIFTOFF_STALLS *
    aircraft.stallCleanKcas *
    Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  const tasMps = trueFromCalibrated(liftoffKcas * MPS_PER_KT, air.surfaceDensityKgM3);
  const wind = new Float64Array(2);
  windProfile(weather.winds, runway.headingTrueDeg).sample(SURFACE_M, wind);
  const groundShare = Math.max((tasMps + (wind[0] as number)) / tasMps, 0.1);
  const factors: TakeoffFactor[] = [
    { because: 'surface', factor: TAKEOFF_SURFACE_FACTOR[runway.surface] },
    { because: 'slope', factor: 1 + PER_SLOPE_PERCENT * Math.max(runway.slopePercent ?? 0, 0) },
    { because: 'elevation', factor: 1 + PER_FT * Math.max(air.pressureHeightM / M_PER_FT, 0) },
    { because: 'temperature', factor: 1 + PER_C * Math.max(weather.temperatureC - standardC, 0) },
    { because: 'wind', factor: groundShare * groundShare },
  ];
  return { distanceFt: factors.reduce((ft, { factor }) => ft * factor, aircraft.takeoffTo50FtFt), factors };
}
