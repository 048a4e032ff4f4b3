// The day and the place: slope, where the take-off starts, other runways, take-off factors, power that comes and goes, mass.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type FlyOptions, flyAttempt } from './flyAttempt.js';
import { surgingPower } from './powerSchedule.js';
import { AIRCRAFT_R, requestR, surfaceWind } from './reference.fixture.js';
import type { OtherRunway } from './request.js';
import { lowestStopFt, returnWindows } from './returnWindows.js';
import { takeoffTo50FtToday } from './takeoffDistance.js';
import { fromFrame, intoFrame, targetsOf } from './targets.js';
import { M_PER_FT } from './units.js';

type Change = NonNullable<Parameters<typeof requestR>[0]>;
const fly = (change: Change, options: FlyOptions = {}) => flyAttempt(requestR(change), options);
const lowest = (change: Change) =>
  lowestStopFt(returnWindows(requestR(change), { fromFt: 250, toFt: 1400 }).windows) ?? Number.NaN;

const PARALLEL: OtherRunway = {
  name: '09R',
  lengthFt: 4000,
  widthFt: 75,
  headingTrueDeg: 90,
  surface: 'paved',
  startAlongFt: 0,
  startAcrossFt: 1500,
};

test('a runway that rises under the return needs more height, a falling one less', () => {
  const level = lowest({});
  expect(lowest({ runway: { slopePercent: 2 } })).toBeGreaterThan(level + 30);
  expect(lowest({ runway: { slopePercent: -2 } })).toBeLessThan(level - 30);
});

test('on a slope the touchdown lies on the surface there, and the flare ends as gently as on the level', () => {
  const flown = flyAttempt(requestR({ runway: { slopePercent: 2 } }), { trackEveryS: 0.5 });
  expect(flown.outcome).toBe('stopped-on-runway');
  expect(flown.track.heightFt.at(-1)).toBeCloseTo(0.02 * flown.touchdown.alongFt, 2);
  // Down the slope at 83 ft/s over the ground the surface falls away by some 100 ft/min of the sink told.
  expect(flown.touchdown.sinkFpm).toBeLessThan(500);
});

test('a return lands downhill where the take-off went uphill, and rolls a tenth farther for each 2 %', () => {
  const at = (slopePercent: number) => {
    const { touchdown, stopMarginFt } = fly({ runway: { slopePercent }, technique: { turn: 'left' } }, { aimFt: 5000 });
    return { roll: touchdown.alongFt - (stopMarginFt ?? Number.NaN), speed: touchdown.groundspeedKt };
  };
  const level = at(0);
  for (const { slope, factor } of [
    { slope: 2, factor: 1.1 },
    { slope: 1, factor: 1.05 },
    { slope: -2, factor: 1 },
  ]) {
    const { roll, speed } = at(slope);
    expect(roll / speed ** 2 / (level.roll / level.speed ** 2)).toBeCloseTo(factor, 6);
  }
});

test('from an intersection the failure lies farther beyond the end, and the ground behind counts when landing', () => {
  expect(lowest({ runway: { takeoffStartFt: 1000 } })).toBeGreaterThan(lowest({}) + 100);
  const flown = fly({ runway: { takeoffStartFt: 1500, lengthFt: 6000 } });
  const { alongFt, groundspeedKt } = flown.touchdown;
  const rollFt = 900 * (groundspeedKt / (1.1 * 56)) ** 2;
  expect(flown.stopMarginFt).toBeCloseTo(alongFt + 1500 - rollFt, 0);
});

test('a parallel runway beside the one just left is returned to from lower, by a plain half turn', () => {
  const change: Change = { runway: { others: [PARALLEL] }, failure: { heightFt: 500 } };
  const flown = flyAttempt(requestR(change), { trackEveryS: 0.5 });
  expect(flown.outcome).toBe('stopped-on-runway');
  expect(flown.returnedTo).toEqual({ name: '09R', landingHeadingTrueDeg: 270 });
  expect(flown.turn).toBe('right');
  expect(flown.touchdown.acrossFt).toBeCloseTo(1500, -1);
  expect(flown.track.alongFt[0]).toBeCloseTo(flown.failure.distanceFt, 3);
  expect(flown.track.acrossFt.at(-1)).toBeCloseTo(flown.touchdown.acrossFt, 6);
  expect(flown.track.headingTrueDeg[0]).toBeCloseTo(90, 3);
  expect(lowest({ runway: { others: [PARALLEL] } })).toBeLessThan(lowest({}) - 150);
});

test('a runway across the way is taken where it is closer, landing in the direction that suits', () => {
  const across: OtherRunway = { ...PARALLEL, name: '18', headingTrueDeg: 180, startAlongFt: 6000, startAcrossFt: 2500 };
  const flown = fly({ runway: { others: [across] }, failure: { heightFt: 600 }, technique: { climbKcas: 92 } });
  expect(flown.outcome).toBe('stopped-on-runway');
  expect(flown.returnedTo?.name).toBe('18');
  expect(Math.abs(flown.touchdown.alongFt - 6000)).toBeLessThan(37.5);
  expect(flown.touchdown.acrossFt).toBeGreaterThan(2500);
  expect(flown.touchdown.acrossFt).toBeLessThan(6500);
  expect(fly({ failure: { heightFt: 600 } }).outcome).not.toBe('stopped-on-runway');
});

test('a runway far away changes nothing', () => {
  const far = { ...PARALLEL, startAcrossFt: 20_000 };
  const plain = fly({ failure: { heightFt: 800 } });
  expect(fly({ runway: { others: [far] }, failure: { heightFt: 800 } })).toEqual(plain);
});

test('asked for by name, a return goes to that runway only; an unknown one is refused', () => {
  const change: Change = { runway: { others: [PARALLEL] } };
  const there = fly(change, { returnTo: { name: '09R', landingHeadingTrueDeg: 270 } });
  expect(there.returnedTo?.name).toBe('09R');
  expect(() => fly(change, { returnTo: { name: '27', landingHeadingTrueDeg: 270 } })).toThrow(
    'returnTo must name runway.name or one of runway.others',
  );
});

test('a frame and back is where it was', () => {
  const number = fc.double({ min: -9000, max: 9000, noNaN: true });
  fc.assert(
    fc.property(number, number, fc.integer({ min: 0, max: 360 }), (x, y, headingTrueDeg) => {
      const { runway } = requestR({ runway: { others: [{ ...PARALLEL, headingTrueDeg }] } });
      for (const { frame } of targetsOf(runway)) {
        if (frame === null) continue;
        const state = Float64Array.of(x, y, 0, 1, 2, 0, 0, 0, 0);
        intoFrame(frame, state);
        const back = fromFrame(frame, state[0] ?? 0, state[1] ?? 0);
        expect(back.alongM).toBeCloseTo(x, 6);
        expect(back.acrossM).toBeCloseTo(y, 6);
        expect(Math.hypot(state[3] ?? 0, state[4] ?? 0)).toBeCloseTo(Math.sqrt(5), 9);
      }
    }),
    { numRuns: 50, seed: 2 },
  );
});

test('the threshold of each landing direction lies where the runway does', () => {
  const { runway } = requestR({ runway: { others: [{ ...PARALLEL, headingTrueDeg: 180, startAlongFt: 700 }] } });
  const [, southbound, northbound] = targetsOf(runway);
  const threshold = (target: typeof southbound) => fromFrame(target?.frame ?? null, 4000 * M_PER_FT, 0);
  expect(southbound?.landingHeadingTrueDeg).toBe(180);
  expect(threshold(southbound).alongM / M_PER_FT).toBeCloseTo(700, 6);
  expect(threshold(southbound).acrossM / M_PER_FT).toBeCloseTo(1500, 6);
  expect(northbound?.landingHeadingTrueDeg).toBe(0);
  expect(threshold(northbound).acrossM / M_PER_FT).toBeCloseTo(5500, 6);
});

// UK CAA Safety Sense Leaflet 7: dry grass 1.20, 2 % uphill 1.10, 1000 ft 1.10, 10 °C 1.10.
test('the handbook take-off is factored for the day, today’s is left alone', () => {
  const aircraft = { ...AIRCRAFT_R, takeoffFigure: 'handbook' as const };
  const { runway, weather } = requestR({ runway: { surface: 'dry-grass', slopePercent: 2, elevationFt: 1000 } });
  const warm = { ...weather, temperatureC: 23.02 };
  const { distanceFt, factors } = takeoffTo50FtToday(aircraft, runway, warm);
  expect(factors.map(({ because }) => because)).toEqual(['surface', 'slope', 'elevation', 'temperature', 'wind']);
  expect(distanceFt).toBeCloseTo(1500 * 1.2 * 1.1 * 1.1 * 1.1, 0);
  expect(takeoffTo50FtToday(AIRCRAFT_R, runway, warm)).toEqual({ distanceFt: 1500, factors: [] });
  expect(
    fly({ aircraft: { takeoffFigure: 'handbook' }, runway: { surface: 'dry-grass' } }).failure.distanceFt,
  ).toBeCloseTo(fly({}).failure.distanceFt + 300, 0);
});

// A tenth of the lift-off speed on the nose: 0.81 of the distance; on the tail 1.21 (FAA-H-8083-25C ch. 11).
test.each([
  { fromTrueDeg: 90, factor: 0.81 },
  { fromTrueDeg: 270, factor: 1.21 },
])('wind from $fromTrueDeg° makes the take-off $factor of the distance', ({ fromTrueDeg, factor }) => {
  const aircraft = { ...AIRCRAFT_R, takeoffFigure: 'handbook' as const };
  const { runway, weather } = requestR({ weather: surfaceWind(fromTrueDeg, 7.36) });
  const { distanceFt } = takeoffTo50FtToday(aircraft, runway, weather);
  expect(distanceFt / 1500).toBeCloseTo(factor, 2);
});

test('a crosswind climb is crabbed: the track keeps the centreline, the nose does not', () => {
  const flown = flyAttempt(requestR({ weather: surfaceWind(180, 15) }), { trackEveryS: 1 });
  expect(flown.track.acrossFt[0]).toBe(0);
  expect(flown.track.headingTrueDeg[0]).toBeGreaterThan(95);
});

test('a surging engine brings back from lower than a dead one, and a later total failure is worse than none', () => {
  const at500 = (failure: Change['failure']) => fly({ failure: { heightFt: 500, ...failure } });
  const powerChanges = surgingPower({ low: 0, high: 0.6, periodS: 6, untilS: 60 });
  expect(powerChanges).toHaveLength(20);
  expect(powerChanges.slice(0, 2)).toEqual([
    { atS: 3, powerFraction: 0.6 },
    { atS: 6, powerFraction: 0 },
  ]);
  expect(at500({}).outcome).not.toBe('stopped-on-runway');
  expect(at500({ powerChanges }).outcome).toBe('stopped-on-runway');
  expect(at500({ powerFraction: 0.3 }).outcome).toBe('stopped-on-runway');
  const dies = at500({ powerFraction: 0.3, powerChanges: [{ atS: 10, powerFraction: 0 }] });
  expect(dies.outcome).not.toBe('stopped-on-runway');
});

test('power that changes to what it is changes nothing', () => {
  const constant = [1.234, 5, 17].map((atS) => ({ atS, powerFraction: 0.3 }));
  const plain = fly({ failure: { powerFraction: 0.3 }, technique: { turn: 'left' } }, { aimFt: 5000 });
  const changed = fly(
    { failure: { powerFraction: 0.3, powerChanges: constant }, technique: { turn: 'left' } },
    { aimFt: 5000 },
  );
  expect(changed.touchdown.alongFt).toBeCloseTo(plain.touchdown.alongFt, 0);
  expect(changed.heightLostTo180Ft).toBeCloseTo(plain.heightLostTo180Ft ?? Number.NaN, 1);
});

test('a lighter aeroplane flown at scaled speeds needs less height', () => {
  const light = Math.sqrt(1200 / 1500);
  expect(
    lowest({
      aircraft: { massKg: 1200, referenceMassKg: 1500 },
      technique: { climbKcas: 92 * light, targetKcas: 85 * light },
    }),
  ).toBeLessThan(lowest({}));
});

test.each([
  { change: { runway: { slopePercent: 11 } }, message: 'runway.slopePercent must be -10 to 10 %, got 11' },
  { change: { runway: { takeoffStartFt: 3950 } }, message: 'runway.takeoffStartFt must be 0 to 3900' },
  {
    change: { runway: { others: [{ ...PARALLEL, widthFt: 0 }] } },
    message: 'runway.others[0].widthFt must be 10 to 1000 ft, got 0',
  },
  {
    change: {
      failure: {
        powerChanges: [
          { atS: 5, powerFraction: 0 },
          { atS: 4, powerFraction: 0 },
        ],
      },
    },
    message: 'failure.powerChanges[1].atS must be 5.05 to 600 s, rising by 0.05 or more, got 4',
  },
  {
    change: { failure: { powerChanges: [{ atS: 5, powerFraction: 1 }] } },
    message: 'failure.powerChanges[0].powerFraction must be 0 to 0.99, got 1',
  },
  {
    change: { aircraft: { takeoffFigure: 'guess' as never } },
    message: 'aircraft.takeoffFigure must be one of today, handbook, got "guess"',
  },
])('refuses what cannot be: $message', ({ change, message }) => {
  expect(() => fly(change)).toThrow(message);
});

test.each([
  { low: 0.5, high: 0.4, periodS: 6, untilS: 60 },
  { low: 0, high: 0.4, periodS: 0, untilS: 60 },
  { low: 0, high: 0.4, periodS: 6, untilS: 5 },
])('refuses to surge by %j', (options) => {
  expect(() => surgingPower(options)).toThrow(RangeError);
});
