// Shear, turbulence, ground effect, engine lapse and landing distances against printed figures.
import {
  deriveAeroplane,
  fullThrustN,
  groundEffectFactor,
  groundRollM,
  M_PER_FT,
  MPS_PER_KT,
  SEA_LEVEL_DENSITY_KG_M3,
  SURFACE_FACTOR,
  turbulenceScales,
  windProfile,
} from '@stillprop/physics';
import { expect, test } from 'vitest';
import { RETRACTABLE } from './retractable.js';

const into = new Float64Array(2);

// MIL-F-8785C 3.7.3.2, Category C: ln(h/0.15 ft)/ln(20 ft/0.15 ft), recomputed.
test.each([
  { heightFt: 3, share: 0.6123 },
  { heightFt: 10, share: 0.8583 },
  { heightFt: 20, share: 1 },
  { heightFt: 50, share: 1.1873 },
  { heightFt: 100, share: 1.3289 },
  { heightFt: 200, share: 1.4706 },
  { heightFt: 500, share: 1.6579 },
  { heightFt: 1000, share: 1.7995 },
])('mean wind at $heightFt ft is $share of that at 20 ft', ({ heightFt, share }) => {
  windProfile([{ heightFt: 20, fromTrueDeg: 180, speedKt: 10 }], 0).sample(heightFt * M_PER_FT, into);
  expect(Math.abs((into[0] ?? 0) / (10 * MPS_PER_KT) - share)).toBeLessThan(5e-4);
});

// FAA-H-8083-25C ch. 11, wind component chart; recomputed.
test.each([
  { speedKt: 20, offDeg: 15, head: 19.32, cross: 5.18 },
  { speedKt: 20, offDeg: 30, head: 17.32, cross: 10 },
  { speedKt: 10, offDeg: 40, head: 7.66, cross: 6.43 },
  { speedKt: 30, offDeg: 50, head: 19.28, cross: 22.98 },
])('$speedKt kt $offDeg° off the runway', ({ speedKt, offDeg, head, cross }) => {
  windProfile([{ heightFt: 33, fromTrueDeg: 90 + offDeg, speedKt }], 90).sample(33 * M_PER_FT, into);
  expect(Math.abs(-(into[0] ?? 0) / MPS_PER_KT - head)).toBeLessThan(0.02);
  expect(Math.abs(-(into[1] ?? 0) / MPS_PER_KT - cross)).toBeLessThan(0.02);
});

// MIL-F-8785C 3.7.3.4, recomputed.
test.each([
  { heightFt: 10, lengthFt: 75.6, ratio: 1.963 },
  { heightFt: 50, lengthFt: 310.8, ratio: 1.8386 },
  { heightFt: 100, lengthFt: 505.2, ratio: 1.7158 },
  { heightFt: 200, lengthFt: 725.8, ratio: 1.5367 },
  { heightFt: 500, lengthFt: 944.7, ratio: 1.2362 },
  { heightFt: 1000, lengthFt: 1000, ratio: 1 },
])('turbulence at $heightFt ft', ({ heightFt, lengthFt, ratio }) => {
  const scales = turbulenceScales(heightFt * M_PER_FT, 15 * MPS_PER_KT);
  expect(Math.abs(scales.horizontalLengthM / M_PER_FT - lengthFt)).toBeLessThan(0.2);
  expect(Math.abs(scales.verticalLengthM / M_PER_FT - heightFt)).toBeLessThan(1e-6);
  expect(Math.abs(scales.horizontalSigmaMps / scales.verticalSigmaMps - ratio)).toBeLessThan(5e-4);
  expect(Math.abs(scales.verticalSigmaMps / M_PER_FT - 2.532)).toBeLessThan(1e-3);
});

// McCormick, Aerodynamics, Aeronautics and Flight Mechanics: (16h/b)²/(1 + (16h/b)²), recomputed.
test.each([
  { spans: 0.05, factor: 0.3902 },
  { spans: 0.1, factor: 0.7191 },
  { spans: 0.15, factor: 0.8521 },
  { spans: 0.2, factor: 0.911 },
  { spans: 0.25, factor: 0.9412 },
  { spans: 0.5, factor: 0.9846 },
  { spans: 1, factor: 0.9961 },
])('at $spans spans $factor of the induced drag is left', ({ spans, factor }) => {
  expect(Math.abs(groundEffectFactor(spans * 11, 11) - factor)).toBeLessThan(5e-4);
});

// Gagg and Ferrar (SAE 1934), as in Gudmundsson, General Aviation Aircraft Design, eq. 7-16: 1.132σ - 0.132.
test.each([
  { sigma: 0.971064, share: 0.9672 },
  { sigma: 0.942773, share: 0.9352 },
  { sigma: 0.86167, share: 0.8434 },
  { sigma: 0.786016, share: 0.7578 },
  { sigma: 0.738479, share: 0.704 },
  { sigma: 0.76173, share: 0.7303 },
])('at σ $sigma the engine gives $share of its power', ({ sigma, share }) => {
  const { thrust } = deriveAeroplane({ ...RETRACTABLE, climb: RETRACTABLE.climb.slice(0, 1) });
  const at = (ratio: number) => fullThrustN(thrust, 50, ratio * SEA_LEVEL_DENSITY_KG_M3);
  expect(Math.abs(at(sigma) / at(1) - share)).toBeLessThan(5e-4);
});

// UK CAA Safety Sense Leaflet 7, landing: dry grass 1.15, wet grass 1.35, wet paved 1.15.
test('surface factors', () => {
  expect(SURFACE_FACTOR).toEqual({ paved: 1, 'dry-grass': 1.15, 'wet-grass': 1.35, 'wet-paved': 1.15 });
});

// FAA-H-8083-25C ch. 11: 10 % faster over the ground, 21 % farther; 60 kt with 5 and 10 kt of tailwind, recomputed.
test.each([
  { factor: 1.1, share: 1.21 },
  { factor: 0.9, share: 0.81 },
  { factor: 65 / 60, share: 1.1736 },
  { factor: 70 / 60, share: 1.3611 },
])('$factor of the speed rolls $share of the distance', ({ factor, share }) => {
  expect(Math.abs(groundRollM(300, factor * 30, 30, 'paved') / 300 - share)).toBeLessThan(1e-4);
});
