// Standard atmosphere, airspeeds and density altitude against printed figures.
import {
  dayAir,
  densityHeightM,
  M_PER_FT,
  pressureHeightM,
  SEA_LEVEL_DENSITY_KG_M3,
  standardAir,
  trueFromCalibrated,
} from '@stillprop/physics';
import { expect, test } from 'vitest';

// U.S. Standard Atmosphere 1976 (identical below 32 km: ISO 2533:1975), recomputed in double precision from its
// constants: T0 288.15 K, P0 101325 Pa, lapse 6.5 K/km, R 287.05287 J/(kg·K).
const TABLE = [
  { heightM: -1000 * M_PER_FT, kelvin: 290.131, pascal: 105_040.6, density: 1.26125 },
  { heightM: 0, kelvin: 288.15, pascal: 101_325, density: 1.225 },
  { heightM: 1000 * M_PER_FT, kelvin: 286.169, pascal: 97_716.6, density: 1.18955 },
  { heightM: 2000 * M_PER_FT, kelvin: 284.188, pascal: 94_212.9, density: 1.1549 },
  { heightM: 5000 * M_PER_FT, kelvin: 278.244, pascal: 84_307.3, density: 1.05555 },
  { heightM: 8000 * M_PER_FT, kelvin: 272.3, pascal: 75_262.4, density: 0.96287 },
  { heightM: 10_000 * M_PER_FT, kelvin: 268.338, pascal: 69_681.6, density: 0.90464 },
  { heightM: 1000, kelvin: 281.65, pascal: 89_874.6, density: 1.11164 },
  { heightM: 2000, kelvin: 275.15, pascal: 79_495.2, density: 1.00649 },
  { heightM: 3000, kelvin: 268.65, pascal: 70_108.5, density: 0.90912 },
];
test.each(TABLE)('standard air at $heightM m', ({ heightM, kelvin, pascal, density }) => {
  const air = standardAir(heightM);
  expect(Math.abs(air.temperatureK - kelvin)).toBeLessThan(0.01);
  expect(Math.abs(air.pressurePa - pascal)).toBeLessThan(2);
  expect(Math.abs(air.densityKgM3 - density)).toBeLessThan(2e-5);
});

// Isentropic pitot law (any aerodynamics text), recomputed: the incompressible CAS/√σ column, and the exact TAS.
const SPEEDS = [
  { cas: 65, pressureFt: 0, celsius: 15, incompressible: 65, exact: 65 },
  { cas: 65, pressureFt: -1000, celsius: 16.98, incompressible: 64.06, exact: 64.06 },
  { cas: 65, pressureFt: 0, celsius: 35, incompressible: 67.22, exact: 67.22 },
  { cas: 100, pressureFt: 5000, celsius: 5.09, incompressible: 107.73, exact: 107.67 },
  { cas: 70, pressureFt: 6000, celsius: 30, incompressible: 80.2, exact: 80.18 },
  { cas: 75, pressureFt: 5431, celsius: 35, incompressible: 85.72, exact: 85.69 },
  { cas: 120, pressureFt: 8000, celsius: -0.85, incompressible: 135.35, exact: 135.16 },
  { cas: 140, pressureFt: 10_000, celsius: -4.81, incompressible: 162.91, exact: 162.51 },
];
test.each(SPEEDS)('$cas kt calibrated at $pressureFt ft and $celsius °C', ({ cas, pressureFt, celsius, ...wanted }) => {
  const air = dayAir({ temperatureC: celsius, qnhHpa: 1013.25 }, pressureFt);
  const tas = trueFromCalibrated(cas, air.surfaceDensityKgM3);
  expect(Math.abs(tas - wanted.incompressible)).toBeLessThan(0.02);
  expect(Math.abs(tas / wanted.exact - 1)).toBeLessThan(0.0026); // what the docstring says of the simplification
});

// The same standard, density altitude (T0/L)(1 - σ^(1/4.25588)); FAA-H-8083-25C ch. 11 for the notion. Exact to 2 ft.
const DENSITY = [
  { pressureFt: 0, celsius: 15, sigma: 1, densityFt: 0 },
  { pressureFt: 0, celsius: 30, sigma: 0.95052, densityFt: 1724 },
  { pressureFt: 0, celsius: -10, sigma: 1.095, densityFt: -3135 },
  { pressureFt: 1000, celsius: -10, sigma: 1.05601, densityFt: -1874 },
  { pressureFt: 2000, celsius: 30, sigma: 0.8838, densityFt: 4161 },
  { pressureFt: 5000, celsius: 30, sigma: 0.79088, densityFt: 7801 },
  { pressureFt: 6000, celsius: 30, sigma: 0.76173, densityFt: 9010 },
  { pressureFt: 5431, celsius: 35, sigma: 0.76558, densityFt: 8848 },
];
test.each(DENSITY)(
  'density altitude at $pressureFt ft and $celsius °C',
  ({ pressureFt, celsius, sigma, densityFt }) => {
    const { surfaceDensityKgM3 } = dayAir({ temperatureC: celsius, qnhHpa: 1013.25 }, pressureFt);
    expect(Math.abs(surfaceDensityKgM3 / SEA_LEVEL_DENSITY_KG_M3 - sigma)).toBeLessThan(2e-5);
    expect(Math.abs(densityHeightM(surfaceDensityKgM3) / M_PER_FT - densityFt)).toBeLessThan(2);
  },
);

// ISA: pressure altitude minus elevation for a QNH, recomputed; 1 inHg is 3386.389 Pa.
test.each([
  { pascal: 100_000, feet: 363.8 },
  { pascal: 103_000, feet: -454.4 },
  { pascal: 29.42 * 3386.389, feet: 467 },
  { pascal: 30.42 * 3386.389, feet: -458 },
])('a QNH of $pascal Pa puts the pressure altitude $feet ft above the elevation', ({ pascal, feet }) => {
  expect(Math.abs(pressureHeightM(pascal) / M_PER_FT - feet)).toBeLessThan(1);
  const air = dayAir({ temperatureC: 15, qnhHpa: pascal / 100 }, 500);
  expect(Math.abs(air.pressureHeightM / M_PER_FT - 500 - feet)).toBeLessThan(1);
});
