// The standard atmosphere below the tropopause, and the pressure altitude of a pressure.
import { GRAVITY_MPS2 } from './units.js';

// U.S. Standard Atmosphere, 1976 (NASA-TM-X-74335), tables 2 and 4; the same figures in ISO 2533:1975.
export const SEA_LEVEL_K = 288.15;
export const SEA_LEVEL_PA = 101_325;
export const LAPSE_K_PER_M = -0.0065;
/** Gas constant of dry air (J/(kg·K)): universal constant over molar mass, both as the 1976 standard has them. */
export const GAS_J_PER_KG_K = 8314.32 / 28.9644;
/** Density at sea level on a standard day (kg/m³). */
export const SEA_LEVEL_DENSITY_KG_M3 = SEA_LEVEL_PA / (GAS_J_PER_KG_K * SEA_LEVEL_K);

/** Exponent of the pressure law, 5.2559. */
export const PRESSURE_EXPONENT = -GRAVITY_MPS2 / (GAS_J_PER_KG_K * LAPSE_K_PER_M);

/** Still, dry air at one height. */
export interface StandardAir {
  readonly temperatureK: number;
  readonly pressurePa: number;
  readonly densityKgM3: number;
}

/**
 * Temperature, pressure and density of the standard atmosphere below the tropopause, whatever today's weather is.
 *
 * @param heightM Geopotential height above mean sea level (m), -1 000 to 11 000. Up to 3 000 m geometric height
 *   will do: the two differ by less than 1.5 m.
 * @returns Temperature (K), static pressure (Pa), density (kg/m³).
 * @throws {RangeError} If heightM is not finite or is out of range; nothing is clamped.
 * @see U.S. Standard Atmosphere, 1976 (NASA-TM-X-74335), eq. 33a for pressure; density by the gas law.
 */
export function standardAir(heightM: number): StandardAir {
  if (!(heightM >= -1_000 && heightM <= 11_000))
    throw new RangeError(`heightM must be -1000 to 11000 m, got ${heightM}`);
  const temperatureK = SEA_LEVEL_K + LAPSE_K_PER_M * heightM;
  const pressurePa = SEA_LEVEL_PA * (temperatureK / SEA_LEVEL_K) ** PRESSURE_EXPONENT;
  return { temperatureK, pressurePa, densityKgM3: pressurePa / (GAS_J_PER_KG_K * temperatureK) };
}

/**
 * Height in the standard atmosphere at which a pressure is found (m): the inverse of {@link standardAir}.
 *
 * @param pressurePa Static pressure (Pa), above 0.
 * @see U.S. Standard Atmosphere, 1976, eq. 33a solved for height.
 */
export function pressureHeightM(pressurePa: number): number {
  if (!(pressurePa > 0 && Number.isFinite(pressurePa)))
    throw new RangeError(`pressurePa must be above 0 Pa, got ${pressurePa}`);
  return (SEA_LEVEL_K / LAPSE_K_PER_M) * ((pressurePa / SEA_LEVEL_PA) ** (1 / PRESSURE_EXPONENT) - 1);
}

/**
 * Density altitude (m): the standard height with this density.
 *
 * @param densityKgM3 Density (kg/m³), above 0.
 * @see FAA-H-8083-25C ch. 11 for the notion; U.S. Standard Atmosphere, 1976, for the law inverted here.
 */
export function densityHeightM(densityKgM3: number): number {
  if (!(densityKgM3 > 0 && Number.isFinite(densityKgM3)))
    throw new RangeError(`densityKgM3 must be above 0 kg/m³, got ${densityKgM3}`);
  const ratio = densityKgM3 / SEA_LEVEL_DENSITY_KG_M3;
  return (SEA_LEVEL_K / LAPSE_K_PER_M) * (ratio ** (1 / (PRESSURE_EXPONENT - 1)) - 1);
}
