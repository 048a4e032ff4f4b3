// Turbulence: reproducible, and as strong as the specification says.
import { expect, test } from 'vitest';
import { randomSource } from './random.js';
import { turbulence, turbulenceScales } from './turbulence.js';

test('a seed gives the same gusts again, another seed others', () => {
  const run = (seed: number) => {
    const air = turbulence(8, seed);
    const out: number[] = [];
    for (let i = 0; i < 50; i++) {
      air.step(0.01, 100, 45);
      out.push(air.alongMps, air.acrossMps, air.upMps);
    }
    return out;
  };
  expect(run(4)).toEqual(run(4));
  expect(run(4)).not.toEqual(run(5));
});

test('over a long time each gust has the variance asked for', () => {
  const air = turbulence(8, 21);
  const { horizontalSigmaMps, verticalSigmaMps } = turbulenceScales(60, 8);
  const steps = 400_000;
  let along = 0;
  let across = 0;
  let up = 0;
  for (let i = 0; i < steps; i++) {
    air.step(0.02, 60, 45);
    along += air.alongMps ** 2;
    across += air.acrossMps ** 2;
    up += air.upMps ** 2;
  }
  // 8000 s hold some 1500 independent gusts: the deviation is known to 2 %, 6 % is three times that.
  expect(Math.abs(Math.sqrt(along / steps) / horizontalSigmaMps - 1)).toBeLessThan(0.06);
  expect(Math.abs(Math.sqrt(across / steps) / horizontalSigmaMps - 1)).toBeLessThan(0.06);
  expect(Math.abs(Math.sqrt(up / steps) / verticalSigmaMps - 1)).toBeLessThan(0.06);
});

test('random numbers are uniform and normal enough', () => {
  const random = randomSource(9);
  const count = 100_000;
  let mean = 0;
  let square = 0;
  let uniform = 0;
  for (let i = 0; i < count; i++) {
    const value = random.normal();
    mean += value / count;
    square += (value * value) / count;
    const share = random.uniform();
    expect(share >= 0 && share < 1).toBe(true);
    uniform += share / count;
  }
  expect(Math.abs(mean)).toBeLessThan(0.015);
  expect(Math.abs(square - 1)).toBeLessThan(0.03);
  expect(Math.abs(uniform - 0.5)).toBeLessThan(0.005);
});

test.each([Number.NaN, 0.5])('a seed of %s is refused', (seed) => {
  expect(() => randomSource(seed)).toThrow(RangeError);
});
