// Whatever the aeroplane, a flight without power comes down in reasonable time with finite figures, or is refused by name.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { requestR } from './reference.fixture.js';
import type { FlyRequest } from './request.js';

const share = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true });

const anyAeroplane: fc.Arbitrary<FlyRequest> = fc
  .record({
    massKg: share(150, 5000),
    wingAreaM2: share(5, 60),
    wingSpanM: share(6, 25),
    stallCleanKcas: share(25, 90),
    landingShare: share(0.75, 1),
    glideShare: share(1.1, 1.9),
    bestGlideRatio: share(4, 25),
    stopped: share(0.5, 3),
    windmillingFine: share(0.5, 3),
    climbShare: share(1.2, 1.6),
    rateFpm: share(200, 2000),
    propeller: fc.constantFrom('stopped' as const, 'windmillingFine' as const),
    heightFt: fc.integer({ min: 100, max: 2000 }),
  })
  .map((any) =>
    requestR({
      aircraft: {
        massKg: any.massKg,
        wingAreaM2: any.wingAreaM2,
        wingSpanM: any.wingSpanM,
        stallCleanKcas: any.stallCleanKcas,
        stallLandingKcas: Math.max(20, any.stallCleanKcas * any.landingShare),
        bestGlideKcas: any.stallCleanKcas * any.glideShare,
        bestGlideRatio: any.bestGlideRatio,
        bestGlidePropeller: 'windmillingFine',
        propellerSinkFactor: { stopped: any.stopped, windmillingFine: any.windmillingFine },
        climb: [{ kcas: any.stallCleanKcas * any.climbShare, rateFpm: any.rateFpm }],
      },
      technique: { climbKcas: any.stallCleanKcas * any.climbShare, targetKcas: any.stallCleanKcas * 1.3 },
      failure: { heightFt: any.heightFt, propeller: any.propeller },
    }),
  );

test('it comes down no slower than a glide of 60:1 would, or it is refused in one sentence', {
  timeout: 60_000,
}, () => {
  let flown = 0;
  fc.assert(
    fc.property(anyAeroplane, (request) => {
      let result: ReturnType<typeof flyAttempt>;
      try {
        result = flyAttempt(request);
      } catch (error) {
        expect(error).toBeInstanceOf(RangeError);
        expect((error as Error).message).toMatch(/^[a-zA-Z.[\]0-9]+ must be .*, (got|but) /);
        return;
      }
      flown += 1;
      for (const value of Object.values(result))
        if (typeof value === 'number') expect(value).toSatisfy(Number.isFinite);
      const highestFt = request.failure.heightFt + result.heightGainedFt;
      const slowestS = (60 * highestFt) / (request.aircraft.stallCleanKcas * 1.6878) + 60;
      expect(result.timeToGroundS).toBeLessThan(slowestS);
      expect(result.heightGainedFt).toBeLessThan(600);
    }),
    { numRuns: 80 },
  );
  expect(flown).toBeGreaterThan(20);
});
