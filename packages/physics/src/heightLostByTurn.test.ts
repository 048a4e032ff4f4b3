// Height lost against heading change: against the closed form of a steady turn, and as a pilot would expect it.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { deriveAeroplane } from './aeroplane.js';
import { glidingTurn } from './closedForms.js';
import { flyAttempt } from './flyAttempt.js';
import { heightLostByTurn } from './heightLostByTurn.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import { M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from './units.js';

const feet = (change: Parameters<typeof requestR>[0], turnsDeg: number[], turn?: 'left' | 'right') =>
  heightLostByTurn(requestR(change), { turnsDeg, turn }).map(({ heightLostFt }) => heightLostFt);

test('twelve headings are told when none are asked for, each costing more than the one before', () => {
  const lost = heightLostByTurn(requestR());
  expect(lost.map(({ turnDeg }) => turnDeg)).toEqual([30, 60, 90, 120, 150, 180, 210, 240, 270, 300, 330, 360]);
  for (let i = 1; i < lost.length; i++) {
    expect(lost[i]?.heightLostFt).toBeGreaterThan(lost[i - 1]?.heightLostFt ?? Number.NaN);
    expect(lost[i]?.timeS).toBeGreaterThan(lost[i - 1]?.timeS ?? Number.NaN);
  }
});

// Once the turn is steady, each further degree costs what the closed form of a gliding turn at that speed says.
test.each([30, 45])('in the steady part the slope is that of a steady gliding turn at %i°', (bankDeg) => {
  const request = requestR({ technique: { bankDeg, stallMargin: 1.02 } });
  const plane = deriveAeroplane(request.aircraft);
  const glide = { ...plane, densityKgM3: 0.98 * SEA_LEVEL_DENSITY_KG_M3 }; // some 700 ft up
  const [low = 0, high = 0] = feet({ technique: { bankDeg, stallMargin: 1.02 } }, [270, 360]);
  const speed = (85 * MPS_PER_KT) / Math.sqrt(0.98);
  // Lift coefficient of that turn: n = cosγ/cosφ, γ from drag over lift; three rounds settle it.
  let lift = 1;
  for (let i = 0; i < 5; i++) {
    const { pathRad } = glidingTurn(glide, lift, bankDeg * RAD_PER_DEG);
    lift =
      ((Math.cos(pathRad) / Math.cos(bankDeg * RAD_PER_DEG)) * plane.weightN) /
      (0.5 * glide.densityKgM3 * speed * speed * plane.wingAreaM2);
  }
  const closed = glidingTurn(glide, lift, bankDeg * RAD_PER_DEG).heightPerRadianM / M_PER_FT;
  expect((high - low) / (Math.PI / 2) / closed).toBeGreaterThan(0.97);
  expect((high - low) / (Math.PI / 2) / closed).toBeLessThan(1.03);
});

test('wings level at 180° costs a little more than passing 180° in the turn', () => {
  const [level = 0] = feet({}, [180]);
  const passing = flyAttempt(requestR()).heightLostTo180Ft ?? Number.NaN;
  expect(level).toBeGreaterThan(passing);
  expect(level).toBeLessThan(passing + 30);
});

test('left and right are alike in still air, and mirror each other in a wind', () => {
  expect(feet({}, [90, 210], 'left')).toEqual(feet({}, [90, 210], 'right').map((value) => expect.closeTo(value, 6)));
  const left = feet({ weather: surfaceWind(60, 15) }, [90, 210], 'left');
  const right = feet({ weather: surfaceWind(120, 15) }, [90, 210], 'right');
  expect(left).toEqual(right.map((value) => expect.closeTo(value, 6)));
});

test('more delay never helps in still air', () => {
  fc.assert(
    fc.property(fc.double({ min: 2, max: 8, noNaN: true }), fc.constantFrom(60, 180, 270), (delayS, turnDeg) => {
      const [less = 0] = feet({ technique: { delayS } }, [turnDeg]);
      const [more = 0] = feet({ technique: { delayS: delayS + 0.5 } }, [turnDeg]);
      expect(more).toBeGreaterThan(less);
    }),
    { numRuns: 25, seed: 3 },
  );
});

test('the figures are continuous: a little more of anything changes them a little', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 20, max: 55 }),
      fc.integer({ min: 72, max: 100 }),
      fc.double({ min: 20, max: 350, noNaN: true }),
      (bankDeg, targetKcas, turnDeg) => {
        const [base = 0] = feet({ technique: { bankDeg, targetKcas } }, [turnDeg]);
        const [bank = 0] = feet({ technique: { bankDeg: bankDeg + 0.01, targetKcas } }, [turnDeg]);
        const [speed = 0] = feet({ technique: { bankDeg, targetKcas: targetKcas + 0.01 } }, [turnDeg]);
        const [turn = 0] = feet({ technique: { bankDeg, targetKcas } }, [turnDeg + 0.01]);
        for (const changed of [bank, speed, turn]) expect(Math.abs(changed - base)).toBeLessThan(1.5);
      },
    ),
    { numRuns: 25, seed: 8 },
  );
});

test('the ground is left out: a failure at 200 ft tells the same turn as one at 1000 ft', () => {
  const [low = 0] = feet({ failure: { heightFt: 200 } }, [180]);
  const [high = 0] = feet({ failure: { heightFt: 1000 } }, [180]);
  expect(low).toBeGreaterThan(200);
  expect(Math.abs(low - high)).toBeLessThan(15); // density and climb differ a little
});

test('a recorded start counts from its own height', () => {
  const [climbed = 0] = feet({}, [180]);
  const { failure } = flyAttempt(requestR());
  const start = {
    alongFt: 0,
    acrossFt: 500,
    heightFt: 1000,
    ktas: failure.ktas,
    headingTrueDeg: 10,
    verticalSpeedFpm: 1180,
    bankDeg: 0,
  };
  const [recorded] = heightLostByTurn(requestR(), { start, turnsDeg: [180] });
  expect(Math.abs((recorded?.heightLostFt ?? 0) - climbed)).toBeLessThan(25);
});

test.each([0, 721, Number.NaN])('a heading change of %s is refused', (turnDeg) => {
  expect(() => heightLostByTurn(requestR(), { turnsDeg: [turnDeg] })).toThrow(
    `turnsDeg[0] must be 1 to 720°, got ${turnDeg}`,
  );
});
