import type { Recording, Sample } from '@stillprop/contracts';
import { Sample as SampleSchema } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fitGlide } from './fitGlide.js';
import { glideRecording, TURNSTONE } from './glide.fixture.js';

const BASE = glideRecording({
  flown: TURNSTONE,
  holds: [
    { fromS: 0, kcas: 105, bankDeg: 0 },
    { fromS: 25, kcas: 80, bankDeg: 30 },
  ],
  rateHz: 5,
  lastsS: 60,
});

const KEYS = ['timeS', 'altitudeFt', 'trueAirspeedKt', 'bankDeg', 'headingDeg', 'loadFactor', 'latitudeDeg'] as const;
const spoiling = fc.record({
  key: fc.constantFrom(...KEYS),
  from: fc.integer({ min: 0, max: 290 }),
  count: fc.integer({ min: 1, max: 300 }),
  scale: fc.constantFrom(-1, 0, 0.01, 0.5, 1, 2),
  add: fc.double({ min: -500, max: 500, noNaN: true }),
});

test('whatever a valid recording holds, the answer is a finite fit or one sentence', () => {
  fc.assert(
    fc.property(fc.array(spoiling, { maxLength: 4 }), fc.boolean(), (spoilings, estimated) => {
      const samples: Sample[] = BASE.samples.map((sample, i) => {
        const spoiled = { ...sample };
        for (const { key, from, count, scale, add } of spoilings)
          if (i >= from && i < from + count) spoiled[key] = (spoiled[key] ?? 0) * scale + add;
        return SampleSchema.safeParse(spoiled).success ? spoiled : sample;
      });
      const recording: Recording = { ...BASE, samples };
      const fit = fitGlide(recording, { wind: estimated ? 'estimated' : 'known' });
      if (fit.ok) {
        const text = JSON.stringify(fit.value, (_, value) => (value === null ? 'nothing' : value));
        const numbers = Object.values(fit.value).flatMap((value) =>
          typeof value === 'object' && value !== null && 'differencePercent' in value
            ? [value.value, value.standardError ?? 0, value.interval95?.low ?? 0, value.interval95?.high ?? 0]
            : [],
        );
        expect(numbers.length).toBe(24);
        for (const number of numbers) expect(Number.isFinite(number), text).toBe(true);
        expect(Number.isFinite(fit.value.wind.speedKt)).toBe(true);
        expect(Number.isFinite(fit.value.rmsResidualFt)).toBe(true);
      } else expect(fit.problem.message).toMatch(/^\w[^\n]+$/);
    }),
    { numRuns: 120 },
  );
});
