// Return windows: edges that the flights themselves confirm, gaps, closing edges, and the flights they took.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import type { FlyRequest } from './request.js';
import { lowestStopFt, type ReturnWindows, returnWindows } from './returnWindows.js';

const at = (request: FlyRequest, heightFt: number) =>
  flyAttempt({ ...request, failure: { ...request.failure, heightFt } });
const stops = ({ windows }: ReturnWindows) => windows.filter(({ outcome }) => outcome === 'stopped-on-runway');
const onAirfield = ({ windows }: ReturnWindows) => windows.filter(({ outcome }) => outcome === 'on-airfield');

const still = returnWindows(requestR(), { fromFt: 400, toFt: 2000 });
const headwind = returnWindows(requestR({ weather: surfaceWind(90, 10) }), { fromFt: 400, toFt: 2000 });

// Independent program with the same equations: opens between 600 and 720 ft, still open at 1500 ft.
test('the window of R in still air opens where the independent program found it and is open to the end of the scan', () => {
  expect(stops(still)).toHaveLength(1);
  const [window] = stops(still);
  expect(window?.fromFt).toBeGreaterThanOrEqual(600);
  expect(window?.fromFt).toBeLessThanOrEqual(720);
  expect(window?.fromIsScanEnd).toBe(false);
  expect(window?.toFt).toBe(2000);
  expect(window?.toIsScanEnd).toBe(true);
  expect(lowestStopFt(still.windows)).toBe(window?.fromFt);
});

test('an edge is where the flights change: made at it, missed 1 ft outside', () => {
  for (const [result, request] of [
    [still, requestR()],
    [headwind, requestR({ weather: surfaceWind(90, 10) })],
  ] as const) {
    for (const { fromFt, toFt, fromIsScanEnd, toIsScanEnd } of stops(result)) {
      expect(at(request, fromFt).outcome).toBe('stopped-on-runway');
      expect(at(request, toFt).outcome).toBe('stopped-on-runway');
      if (!fromIsScanEnd) expect(at(request, fromFt - 1).outcome).not.toBe('stopped-on-runway');
      if (!toIsScanEnd) expect(at(request, toFt + 1).outcome).not.toBe('stopped-on-runway');
    }
  }
});

test('the flight at an edge can be flown again from what is told of it', () => {
  const request = requestR();
  for (const { lowest, highest } of stops(still))
    for (const { heightFt, turn, aimFt, outcome, turnedDeg, stopMarginFt } of [lowest, highest]) {
      const flown = flyAttempt(
        { ...request, technique: { ...request.technique, turn }, failure: { ...request.failure, heightFt } },
        { aimFt },
      );
      expect(flown.outcome).toBe(outcome);
      expect(flown.turnedDeg).toBeCloseTo(turnedDeg, 6);
      expect(flown.stopMarginFt).toBeCloseTo(stopMarginFt ?? Number.NaN, 4);
    }
});

// A return is lost on the way up as well: a head wind at take-off is a tail wind home.
test('with a head wind at take-off the window closes upwards in an overrun', () => {
  const last = stops(headwind).at(-1);
  expect(last?.toIsScanEnd).toBe(false);
  expect(at(requestR({ weather: surfaceWind(90, 10) }), (last?.toFt ?? 0) + 20).outcome).toBe('overrun');
});

test('flap and sideslip move the closing edge up', () => {
  const closing = (technique: object) =>
    stops(
      returnWindows(requestR({ weather: surfaceWind(90, 10), technique: { turn: 'left', ...technique } }), {
        fromFt: 600,
        toFt: 2000,
        stepFt: 100,
      }),
    ).at(-1)?.toFt ?? 0;
  const plain = closing({});
  expect(closing({ flapDownHeightFt: 600 })).toBeGreaterThan(plain + 50);
  expect(closing({ sideslipDragCoefficient: 0.05 })).toBeGreaterThan(plain + 50);
});

test('whatever stops on the runway is on the airfield too', () => {
  for (const result of [still, headwind])
    for (const window of stops(result))
      expect(onAirfield(result).some((wider) => wider.fromFt <= window.fromFt && wider.toFt >= window.toFt)).toBe(true);
  const lowest = onAirfield(still).find(({ toFt }) => toFt === 2000);
  expect(lowest?.fromFt).toBeLessThan(lowestStopFt(still.windows) ?? 0);
});

// An aim far out keeps a high failure from overrunning: the way home is made long enough.
test('where the window stays open high up, the flight aims farther out', () => {
  const { lowest, highest } = stops(still)[0] as NonNullable<ReturnType<typeof stops>[0]>;
  expect(highest.aimFt).toBeGreaterThan(lowest.aimFt + 2000);
});

test('in a crosswind a height counts if either side works from it, and the sides are told apart', () => {
  const result = returnWindows(requestR({ weather: surfaceWind(150, 15) }), { fromFt: 400, toFt: 1200 });
  expect(result.bySide.map(({ turn }) => turn)).toEqual(['left', 'right']);
  const lowest = (turn: string) => lowestStopFt(result.bySide.find((side) => side.turn === turn)?.windows ?? []);
  expect(lowest('right')).toBeLessThan(lowest('left') ?? 0);
  expect(lowestStopFt(result.windows)).toBe(lowest('right'));
});

test('from a recorded moment only the height changes', () => {
  const { failure } = flyAttempt(requestR());
  const start = {
    alongFt: failure.distanceFt,
    acrossFt: 0,
    heightFt: 1000,
    ktas: failure.ktas,
    headingTrueDeg: 90,
    verticalSpeedFpm: 1200,
    bankDeg: 0,
  };
  const result = returnWindows(requestR(), { start, fromFt: 500, toFt: 1500 });
  const lowest = lowestStopFt(result.windows) ?? 0;
  const flown = (heightFt: number) => flyAttempt(requestR(), { start: { ...start, heightFt } }).outcome;
  expect(flown(lowest)).toBe('stopped-on-runway');
  expect(flown(lowest - 1)).not.toBe('stopped-on-runway');
});

test('the flights are counted and few: under 30 a height, refining included', () => {
  for (const result of [still, headwind]) {
    const heights = (result.scannedToFt - result.scannedFromFt) / result.scanStepFt + 1;
    expect(result.flights).toBeGreaterThan(heights);
    expect(result.flights / heights).toBeLessThan(60);
  }
  expect(still.flights / 33).toBeLessThan(30);
});

test('progress rises to 1, and a technique that lands ahead has no window', () => {
  const shares: number[] = [];
  returnWindows(requestR(), { fromFt: 800, toFt: 1000, onProgress: (share) => shares.push(share) });
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares.at(-1)).toBe(1);
  expect(returnWindows(requestR({ technique: { turn: 'ahead' } })).windows).toEqual([]);
});

const TRAINER = {
  aircraft: {
    massKg: 1050,
    wingAreaM2: 16.2,
    wingSpanM: 10.9,
    stallCleanKcas: 50,
    stallLandingKcas: 44,
    bestGlideKcas: 68,
    bestGlideRatio: 9,
    bestGlidePropeller: 'windmillingFine',
    propellerSinkFactor: { stopped: 0.85, windmillingFine: 1 },
    climb: [
      { kcas: 62, rateFpm: 690 },
      { kcas: 74, rateFpm: 720 },
    ],
    gearDragCoefficient: 0,
    flapDragCoefficient: 0.05,
    takeoffTo50FtFt: 1650,
    landingRollFt: 600,
  },
  technique: { climbKcas: 68, targetKcas: 65 },
  failure: { propeller: 'windmillingFine' },
} as const;

const expectFlown = (request: FlyRequest, result: ReturnWindows) => {
  for (const { fromFt, toFt, fromIsScanEnd, toIsScanEnd } of stops(result)) {
    expect(at(request, fromFt).outcome).toBe('stopped-on-runway');
    expect(at(request, toFt).outcome).toBe('stopped-on-runway');
    if (!fromIsScanEnd) expect(at(request, fromFt - 1).outcome).not.toBe('stopped-on-runway');
    if (!toIsScanEnd) expect(at(request, toFt + 1).outcome).not.toBe('stopped-on-runway');
  }
};

// The aims that stop above 1120 ft are found from the aims of the heights below alone: a pilot there would not find them.
test('the closing edge of a trainer in 10 kt is where its flights stop working', () => {
  const request = requestR({ ...TRAINER, weather: surfaceWind(90, 10) });
  const result = returnWindows(request, { fromFt: 900, toFt: 1300 });
  expect(stops(result).at(-1)?.toIsScanEnd).toBe(false);
  expectFlown(request, result);
});

test('whatever the wind, runway and technique, the flight from an edge stops and the one a foot outside does not', () => {
  fc.assert(
    fc.property(
      fc.record({
        trainer: fc.boolean(),
        fromDeg: fc.integer({ min: 0, max: 359 }),
        speedKt: fc.integer({ min: 0, max: 22 }),
        lengthFt: fc.integer({ min: 2500, max: 6500 }),
        bankDeg: fc.integer({ min: 28, max: 45 }),
        delayS: fc.integer({ min: 1, max: 5 }),
        faster: fc.integer({ min: -3, max: 8 }),
        turn: fc.constantFrom('left', 'right', 'best'),
        powerFraction: fc.constantFrom(0, 0, 0.3),
      }),
      ({ trainer, fromDeg, speedKt, lengthFt, bankDeg, delayS, faster, turn, powerFraction }) => {
        const base = trainer ? TRAINER : { technique: { targetKcas: 85 } };
        const request = requestR({
          ...base,
          weather: surfaceWind(fromDeg, speedKt),
          runway: { lengthFt },
          technique: { ...base.technique, bankDeg, delayS, turn, targetKcas: base.technique.targetKcas + faster },
          failure: { ...('failure' in base ? base.failure : {}), powerFraction },
        });
        expectFlown(request, returnWindows(request, { fromFt: 200, toFt: 1400, stepFt: 100 }));
      },
    ),
    { numRuns: 12 },
  );
}, 120_000);

test('an island is told as a window but is no height to return from, unless the scan ends in it', () => {
  const window = (fromFt: number, toFt: number, toIsScanEnd = false) =>
    ({ ...stops(still)[0], fromFt, toFt, toIsScanEnd }) as ReturnWindows['windows'][0];
  expect(lowestStopFt([window(264, 271), window(300, 340), window(400, 450), window(500, 900)])).toBe(400);
  expect(lowestStopFt([window(264, 271)])).toBeNull();
  expect(lowestStopFt([window(264, 271), window(2990, 3000, true)])).toBe(2990);
});

// Scanned from 264 ft the island of R at 40 % of power is met and told apart from the window above it.
test('an island that the scan meets is split off by what fails above it', () => {
  const request = requestR({ failure: { powerFraction: 0.4 } });
  const result = returnWindows(request, { fromFt: 167, toFt: 467 });
  const [island, window] = stops(result);
  expect(island?.fromFt).toBeLessThanOrEqual(267);
  expect(island?.toFt).toBeLessThan(280);
  expect(window?.fromFt).toBeGreaterThan(290);
  expect(lowestStopFt(result.windows)).toBe(window?.fromFt);
});

test.each([
  { options: { fromFt: 20 }, message: 'fromFt must be 50 to 6000 ft, got 20' },
  { options: { fromFt: 500, toFt: 400 }, message: 'toFt must be above fromFt (500) to 6000 ft, got 400' },
  { options: { stepFt: Number.NaN }, message: 'stepFt must be 5 to 1000 ft, got NaN' },
])('refuses $options', ({ options, message }) => {
  expect(() => returnWindows(requestR(), options)).toThrow(message);
});

// Far aims overrun alike up to a brink, where a band of them a few metres wide still stops.
test('above a closing edge no aim 4 m apart finds a return', () => {
  const request = requestR({
    weather: surfaceWind(85.8, 9.96),
    runway: { lengthFt: 4287 },
    technique: { turn: 'left', targetKcas: 83.9, bankDeg: 35.6, delayS: 3.69 },
  });
  const [window] = stops(returnWindows(request, { fromFt: 1000, toFt: 1500 }));
  const closesFt = window?.toFt ?? 0;
  expect(at(request, closesFt).outcome).toBe('stopped-on-runway');
  for (const aboveFt of [3, 10, 30])
    for (let aimFt = 0; aimFt < 10_000; aimFt += 13) {
      const failure = { ...request.failure, heightFt: closesFt + aboveFt };
      expect(flyAttempt({ ...request, failure }, { aimFt }).outcome).not.toBe('stopped-on-runway');
    }
});
