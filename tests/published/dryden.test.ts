// Turbulence against the spectra of the specification: variance, and power at a few frequencies.
import { M_PER_FT, MPS_PER_KT, turbulence, turbulenceScales } from '@stillprop/physics';
import { expect, test } from 'vitest';

const HEIGHT_M = 300 * M_PER_FT;
const TAS_MPS = 45;
const DT_S = 0.05;
const COUNT = 4096;
const RUNS = 60;

/** One-sided power spectrum (m²/s² per Hz) at a frequency, the mean of many periodograms, and its variance. */
function measured(pick: 'alongMps' | 'upMps', frequencies: readonly number[]) {
  const air = turbulence(20 * MPS_PER_KT, 5);
  for (let i = 0; i < 2000; i++) air.step(DT_S, HEIGHT_M, TAS_MPS);
  const power = frequencies.map(() => 0);
  let square = 0;
  for (let run = 0; run < RUNS; run++) {
    const samples = Float64Array.from({ length: COUNT }, () => {
      air.step(DT_S, HEIGHT_M, TAS_MPS);
      return air[pick];
    });
    frequencies.forEach((hz, k) => {
      let real = 0;
      let imaginary = 0;
      for (let i = 0; i < COUNT; i++) {
        const angle = 2 * Math.PI * hz * i * DT_S;
        real += (samples[i] as number) * Math.cos(angle);
        imaginary += (samples[i] as number) * Math.sin(angle);
      }
      power[k] = (power[k] as number) + (2 * (real * real + imaginary * imaginary) * DT_S) / COUNT / RUNS;
    });
    square += samples.reduce((sum, value) => sum + value * value, 0) / COUNT / RUNS;
  }
  return { power, variance: square };
}

// MIL-F-8785C 3.7.1.2: Φu = σ²·(2L/π)/(1 + (Lk)²), Φw = σ²·(L/π)·(1 + 3(Lk)²)/(1 + (Lk)²)², k in rad/m; per Hz times 2π/V.
// Frequencies are whole multiples of 1/(4096·0.05 s), low enough for the step to be short. 60 runs know a power to 13 %.
const FREQUENCIES = [8, 24, 80, 240].map((cycles) => cycles / (COUNT * DT_S));

test.each([
  { pick: 'alongMps' as const, name: 'along' },
  { pick: 'upMps' as const, name: 'up' },
])('gusts $name have the power the specification gives them', ({ pick }) => {
  const scales = turbulenceScales(HEIGHT_M, 20 * MPS_PER_KT);
  const length = pick === 'alongMps' ? scales.horizontalLengthM : scales.verticalLengthM;
  const sigma = pick === 'alongMps' ? scales.horizontalSigmaMps : scales.verticalSigmaMps;
  const { power, variance } = measured(pick, FREQUENCIES);
  FREQUENCIES.forEach((hz, index) => {
    const k = (2 * Math.PI * hz) / TAS_MPS;
    const square = (length * k) ** 2;
    const density =
      pick === 'alongMps'
        ? (sigma ** 2 * ((2 * length) / Math.PI)) / (1 + square)
        : (sigma ** 2 * (length / Math.PI) * (1 + 3 * square)) / (1 + square) ** 2;
    const expected = (density * 2 * Math.PI) / TAS_MPS;
    expect((power[index] as number) / expected).toBeGreaterThan(0.6);
    expect((power[index] as number) / expected).toBeLessThan(1.5);
  });
  expect(Math.abs(variance / sigma ** 2 - 1)).toBeLessThan(0.1);
});
