// Today's air over one runway: density from QNH, elevation and temperature, and calibrated against true airspeed.
import type { WeatherNumbers } from './request.js';
import {
  GAS_J_PER_KG_K,
  LAPSE_K_PER_M,
  PRESSURE_EXPONENT,
  pressureHeightM,
  SEA_LEVEL_DENSITY_KG_M3,
  SEA_LEVEL_K,
  standardAir,
} from './standardAir.js';
import { KELVIN_AT_0C, M_PER_FT } from './units.js';

/** Density over one runway. */
export interface DayAir {
  /** Pressure altitude of the runway (m). */
  readonly pressureHeightM: number;
  /** Density at the runway surface (kg/m³). */
  readonly surfaceDensityKgM3: number;
  /** Lapse rate over the temperature at that pressure altitude (1/m): density is surface density × `densityPower` of it × height. */
  readonly lapsePerM: number;
  /** Density (kg/m³) at a height above the runway (m). */
  densityKgM3(heightM: number): number;
}

/**
 * The air over a runway today. The pressure altitude of the runway is its elevation plus the standard height of
 * the QNH; the density there follows from that pressure and the temperature given for the runway; above it the
 * density falls in the same ratio as in the standard atmosphere above that pressure altitude.
 *
 * @param weather Temperature at the runway (°C) and QNH (hPa); winds are not read.
 * @param elevationFt Runway elevation above mean sea level (ft).
 * @see U.S. Standard Atmosphere, 1976 (NASA-TM-X-74335). Air is taken as dry: a dew point of 20 °C at 30 °C would
 *   make it 0.9 % thinner.
 */
export function dayAir(weather: Pick<WeatherNumbers, 'temperatureC' | 'qnhHpa'>, elevationFt: number): DayAir {
  const runwayPressureHeightM = elevationFt * M_PER_FT + pressureHeightM(weather.qnhHpa * 100);
  const standard = standardAir(runwayPressureHeightM);
  const surfaceDensityKgM3 = standard.pressurePa / (GAS_J_PER_KG_K * (weather.temperatureC + KELVIN_AT_0C));
  const lapsePerM = LAPSE_K_PER_M / (SEA_LEVEL_K + LAPSE_K_PER_M * runwayPressureHeightM);
  return {
    pressureHeightM: runwayPressureHeightM,
    surfaceDensityKgM3,
    lapsePerM,
    densityKgM3: (heightM) => surfaceDensityKgM3 * densityPower(lapsePerM * heightM),
  };
}

/** What the exponent of the density law (4.2559) has beyond 4¼. */
const EXPONENT_REST = PRESSURE_EXPONENT - 1 - 4.25;

/**
 * (1 + u)^4.2559 as x⁴·√√x times a short series for the rest: asked at every evaluation of the forces, where a general
 * power costs as much as all the rest. Within 1e-6 of it for |u| to 0.15 (some 20 000 ft up or down), 1e-8 to 0.05.
 */
export function densityPower(u: number): number {
  const x = 1 + u;
  const square = x * x;
  const log = u * (1 - u * (0.5 - u * (1 / 3 - u * 0.25)));
  return square * square * Math.sqrt(Math.sqrt(x)) * (1 + EXPONENT_REST * log);
}

/**
 * True airspeed of a calibrated airspeed, both in the same unit: CAS·√(ρ0/ρ).
 *
 * Valid below 200 kt and 10 000 ft, where it is at most 0.25 % above the compressible value (measured against the
 * isentropic pitot law: 162.9 for 162.5 kt at 140 kt and 10 000 ft, 107.73 for 107.67 kt at 100 kt and 5 000 ft).
 */
export function trueFromCalibrated(calibrated: number, densityKgM3: number): number {
  return calibrated * Math.sqrt(SEA_LEVEL_DENSITY_KG_M3 / densityKgM3);
}

/** Calibrated airspeed of a true airspeed, both in the same unit; validity as {@link trueFromCalibrated}. */
export function calibratedFromTrue(trueSpeed: number, densityKgM3: number): number {
  return trueSpeed * Math.sqrt(densityKgM3 / SEA_LEVEL_DENSITY_KG_M3);
}
