// Laws every modelled attempt has to keep.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import type { FlyRequest, Outcome } from './request.js';
import { GRAVITY_MPS2, M_PER_FT, MPS_PER_KT } from './units.js';

const OUTCOMES: readonly Outcome[] = [
  'stopped-on-runway',
  'overrun',
  'on-airfield',
  'off-airfield',
  'wing-low-contact',
  'stall',
];

const anyRequest: fc.Arbitrary<FlyRequest> = fc
  .record({
    heightFt: fc.integer({ min: 50, max: 2500 }),
    delayS: fc.integer({ min: 0, max: 8 }),
    targetKcas: fc.integer({ min: 65, max: 120 }),
    bankDeg: fc.integer({ min: 5, max: 70 }),
    stallMargin: fc.double({ min: 0.9, max: 1.3, noNaN: true }),
    fromTrueDeg: fc.integer({ min: 0, max: 360 }),
    speedKt: fc.integer({ min: 0, max: 30 }),
    powerFraction: fc.constantFrom(0, 0, 0.3, 0.7),
    turn: fc.constantFrom('best', 'left', 'right', 'ahead'),
    propeller: fc.constantFrom('coarse', 'stopped', 'windmillingFine'),
    temperatureC: fc.integer({ min: -20, max: 40 }),
  })
  .map(({ heightFt, powerFraction, propeller, fromTrueDeg, speedKt, temperatureC, ...technique }) =>
    requestR({
      technique,
      weather: { temperatureC, ...surfaceWind(fromTrueDeg, speedKt) },
      failure: { heightFt, powerFraction, propeller },
    }),
  );

test('whatever is flown, every figure is a number and the outcome is one of six', () => {
  fc.assert(
    fc.property(anyRequest, (request) => {
      const result = flyAttempt(request);
      expect(OUTCOMES).toContain(result.outcome);
      expectFinite(result);
    }),
    { numRuns: 40, seed: 11 },
  );
});

test('the same request gives the same bits', () => {
  const request = requestR({ weather: surfaceWind(50, 12) });
  expect(flyAttempt(request, { trackEveryS: 0.5 })).toEqual(flyAttempt(request, { trackEveryS: 0.5 }));
});

test('recording the path changes nothing of the result', () => {
  const request = requestR({ weather: surfaceWind(50, 12) });
  const { track, ...recorded } = flyAttempt(request, { trackEveryS: 0.07 });
  expect(track.timeS.length).toBeGreaterThan(500);
  expect(recorded).toEqual(flyAttempt(request));
});

test('left in a wind from the left mirrors right in a wind from the right', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 180 }), fc.integer({ min: 0, max: 20 }), (off, speedKt) => {
      const aimFt = 4500;
      const right = requestR({ technique: { turn: 'right' }, weather: surfaceWind((90 + off) % 360, speedKt) });
      const left = requestR({ technique: { turn: 'left' }, weather: surfaceWind((450 - off) % 360, speedKt) });
      const a = flyAttempt(right, { aimFt });
      const b = flyAttempt(left, { aimFt });
      expect(b.touchdown.alongFt).toBeCloseTo(a.touchdown.alongFt, 3);
      expect(b.touchdown.acrossFt).toBeCloseTo(-a.touchdown.acrossFt, 3);
      expect(b.touchdown.bankDeg).toBeCloseTo(-a.touchdown.bankDeg, 3);
      expect(b.touchdown.headingErrorDeg).toBeCloseTo(-a.touchdown.headingErrorDeg, 3);
      expect(b.heightLostTo180Ft === null).toBe(a.heightLostTo180Ft === null);
      expect(b.heightLostTo180Ft ?? 0).toBeCloseTo(a.heightLostTo180Ft ?? 0, 3);
      expect(b.outcome).toBe(a.outcome);
    }),
    { numRuns: 25, seed: 5 },
  );
});

test('in still air no energy comes from nowhere once the engine is dead', () => {
  for (const technique of [{}, { bankDeg: 60 }, { delayS: 6 }, { targetKcas: 110 }]) {
    const { track } = flyAttempt(requestR({ technique }), { trackEveryS: 0.1 });
    let last = Number.POSITIVE_INFINITY;
    track.timeS.forEach((timeS, i) => {
      if (timeS < 4) return; // eight time constants of the power lag
      const speed = (track.ktas[i] ?? Number.NaN) * MPS_PER_KT;
      const energyM = (track.heightFt[i] ?? Number.NaN) * M_PER_FT + (speed * speed) / (2 * GRAVITY_MPS2);
      expect(energyM).toBeLessThan(last);
      last = energyM;
    });
  }
});

// The step is chosen so: halving it moves the touchdown by under 1 ft and the height lost by under 0.5 ft.
test.each([
  {},
  { technique: { bankDeg: 30 } },
  { technique: { straightKcas: 105 } },
  { weather: surfaceWind(60, 15) },
  { failure: { heightFt: 1600 } },
])('halving the step changes next to nothing: %j', (change) => {
  const base = requestR(change);
  const request = { ...base, technique: { ...base.technique, turn: 'left' as const } };
  for (const aimFt of [2000, 4500, 7000]) {
    const coarse = flyAttempt(request, { aimFt });
    const fine = flyAttempt(request, { aimFt, stepS: 0.025 });
    expect(Math.abs(coarse.touchdown.alongFt - fine.touchdown.alongFt)).toBeLessThan(1);
    expect(Math.abs(coarse.touchdown.acrossFt - fine.touchdown.acrossFt)).toBeLessThan(1);
    expect(Math.abs((coarse.heightLostTo180Ft ?? 0) - (fine.heightLostTo180Ft ?? 0))).toBeLessThan(0.5);
    expect(Math.abs(coarse.timeToGroundS - fine.timeToGroundS)).toBeLessThan(0.05);
    expect(Math.abs(coarse.heightGainedFt - fine.heightGainedFt)).toBeLessThan(0.1);
    expect(Math.abs(coarse.largestSinkFpm - fine.largestSinkFpm)).toBeLessThan(3);
  }
});

test('the path is told in even rows from the failure to the contact', () => {
  const { track, timeToGroundS, touchdown, failure } = flyAttempt(requestR(), { trackEveryS: 0.5 });
  const rows = track.timeS.length;
  expect(rows).toBe(Math.floor(timeToGroundS / 0.5) + 2);
  for (const column of Object.values(track)) expect(column).toHaveLength(rows);
  for (let i = 0; i < rows - 1; i++) expect(track.timeS[i]).toBeCloseTo(i * 0.5, 6);
  expect(track.timeS[rows - 1]).toBeCloseTo(timeToGroundS, 6);
  expect(track.alongFt[0]).toBeCloseTo(failure.distanceFt, 6);
  expect(track.alongFt[rows - 1]).toBeCloseTo(touchdown.alongFt, 6);
  expect(track.heightFt[rows - 1]).toBeCloseTo(0, 3);
  expect(track.headingTrueDeg[0]).toBeCloseTo(90, 6);
  expect([...new Set(track.phase)]).toEqual(['delay', 'turn', 'straight', 'align', 'final', 'flare']);
});

test('the stall speed told with the path is that of the load factor flown', () => {
  const { track, leastStallMargin } = flyAttempt(requestR(), { trackEveryS: 0.05 });
  const flared = track.phase.indexOf('flare');
  const reacted = track.phase.indexOf('turn');
  const margins = track.kcas.slice(reacted, flared).map((kcas, i) => kcas / (track.stallKcas[reacted + i] ?? 0));
  expect(Math.min(...margins)).toBeCloseTo(leastStallMargin, 2);
});

test('no delay at all is flown too', () => {
  const flown = flyAttempt(requestR({ technique: { delayS: 0 } }));
  expect(flown.speedLostKt).toBe(0);
  expect(flown.heightGainedFt).toBeGreaterThan(0);
});

test('a pilot who flies inside the stall stalls', () => {
  const flown = flyAttempt(requestR({ technique: { stallMargin: 0.95, targetKcas: 66 } }));
  expect(flown.outcome).toBe('stall');
  expect(flown.leastStallMargin).toBeLessThan(1.005); // taken at the end of each step: 1 itself lies inside one
});

test('landing ahead keeps the wings level and the direction', () => {
  const flown = flyAttempt(
    requestR({ technique: { turn: 'ahead' }, failure: { heightFt: 60 }, runway: { lengthFt: 6000 } }),
  );
  expect(flown.outcome).toBe('stopped-on-runway');
  expect(flown.turn).toBe('ahead');
  expect(flown.turnedDeg).toBe(0);
  expect(flown.heightLostTo180Ft).toBeNull();
  expect(flown.aimFt).toBeNull();
  expect(Math.abs(flown.touchdown.acrossFt)).toBeLessThan(1);
  expect((flown.stopMarginFt ?? -1) + flown.touchdown.alongFt).toBeLessThan(6000);
});

test('a windmilling propeller sinks faster than a coarse one', () => {
  const glide = (propeller: 'coarse' | 'stopped' | 'windmillingFine') =>
    flyAttempt(requestR({ technique: { turn: 'ahead' }, failure: { propeller } })).timeToGroundS;
  expect(glide('coarse')).toBeGreaterThan(glide('stopped'));
  expect(glide('stopped')).toBeGreaterThan(glide('windmillingFine'));
});

function expectFinite(value: unknown): void {
  if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
  else if (typeof value === 'object' && value !== null) for (const inner of Object.values(value)) expectFinite(inner);
}
