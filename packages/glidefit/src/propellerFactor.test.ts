// What a propeller state costs, told by two glides of one aeroplane: one in each state.
import { expect, test } from 'vitest';
import { fitGlide } from './fitGlide.js';
import { glideRecording, type Hold, TURNSTONE, USUAL_NOISE } from './glide.fixture.js';

const HOLDS: readonly Hold[] = [
  { fromS: 0, kcas: 112, bankDeg: 0 },
  { fromS: 30, kcas: 82, bankDeg: 0 },
  { fromS: 55, kcas: 95, bankDeg: 30 },
];

test.each(['stopped', 'windmillingFine'] as const)(
  'the ratio of the factors of two glides is what the propeller %s costs over coarse pitch, within its uncertainty',
  (propeller) => {
    // Glides better than its file by 8 %: the ratio of the two does not depend on it, each factor alone does.
    const flown = { ...TURNSTONE, bestGlideRatio: TURNSTONE.bestGlideRatio * 1.08 };
    const factorIn = (state: 'coarse' | typeof propeller, seed: number) => {
      const recording = glideRecording({
        flown,
        file: TURNSTONE,
        holds: HOLDS,
        propeller: state,
        noise: USUAL_NOISE,
        seed,
        startFt: 3000,
      });
      const fit = fitGlide(recording, { wind: 'estimated' });
      if (!fit.ok) throw new Error(fit.problem.message);
      const { value, standardError, verdict } = fit.value.propellerSinkFactor;
      expect(verdict).toBe('differs');
      return { value, relative: (standardError ?? Number.NaN) / value };
    };
    const coarse = factorIn('coarse', 11);
    const other = factorIn(propeller, 12);
    const ratio = other.value / coarse.value;
    const truth = TURNSTONE.propellerSinkFactor[propeller] as number;
    const error = Math.hypot(coarse.relative, other.relative);
    expect(error).toBeLessThan(0.01);
    expect(Math.abs(Math.log(ratio / truth))).toBeLessThan(2.5 * error);
  },
);
