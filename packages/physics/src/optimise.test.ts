// The free search: close to the numerical bound, within the technique's limits, and flown again from what it tells.
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { optimise } from './optimise.js';
import { describeTechnique } from './optimisedWords.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import { lowestStopFt, returnWindows } from './returnWindows.js';
import { type Schedule, scheduleOf } from './schedule.js';

// A free search over bank and speed schedules by an independent program (differential evolution, same lags and limits)
// returned R from 495 ft with 45° and margin 1.05, 525 ft with margin 1.1, 660 ft with 30°. Ours, which lets the nose
// drop in the turn (freeSearch.fixture.ts, the best of several seeds), from 453, 493 and 595 ft: guided, none is lower.
test.each([
  { technique: {}, within: 1.05 * 495, freeFt: 453 },
  { technique: { bankDeg: 30 }, within: 1.05 * 660, freeFt: 595 },
  { technique: { stallMargin: 1.1 }, within: 1.05 * 525, freeFt: 493 },
])('$technique returns from below $within ft', ({ technique, within, freeFt }) => {
  const request = requestR({ technique: { turn: 'left', ...technique } });
  const found = optimise(request, { rounds: 80 });
  expect(found?.lowestReturnFt).toBeGreaterThan(freeFt);
  expect(found?.lowestReturnFt).toBeLessThan(within);
  expect(found?.gainFt).toBeGreaterThan(60);
  if (found === null) return;
  // Flown again, it stops on the runway with the bank and the margin of the technique given.
  const { stallMargin, bankDeg } = request.technique;
  const flown = flyAttempt(
    { ...request, technique: found.technique, failure: { ...request.failure, heightFt: found.lowestReturnFt } },
    { trackEveryS: 0.1 },
  );
  expect(flown.outcome).toBe('stopped-on-runway');
  expect(flown.leastStallMargin).toBeGreaterThan(stallMargin - 0.01);
  expect(Math.max(...flown.track.bankDeg.map(Math.abs))).toBeLessThanOrEqual(bankDeg + 0.01);
  expect(found.technique).toMatchObject({ stallMargin, bankDeg, delayS: 3, climbKcas: 92 });
  expect(found.returnWindows[0]?.fromFt).toBe(found.lowestReturnFt);
});

test('it says in the order flown what is different, what that is worth, and what no one should try near the ground', () => {
  const request = requestR({ technique: { turn: 'left' } });
  const given = scheduleOf(request.technique);
  const found = {
    turnEntryKcas: 68,
    targetKcas: 81,
    straightKcas: 76,
    alignKcas: 67.2,
    alignBankDeg: 18,
    alignTimeS: 4.5,
    bankKept: true,
    speedEased: true,
  };
  const putBack: (keyof Schedule)[][] = [];
  const words = describeTechnique(request, given, found, (part) => {
    putBack.push(Object.keys(part) as (keyof Schedule)[]);
    return putBack.length === 1 ? Number.POSITIVE_INFINITY : 10 * putBack.length;
  });
  expect(words.map(({ text }) => text)).toEqual([
    'at the end of the delay roll straight to 45° of bank and keep it: where the speed is too low for a level turn let the nose drop, and pull no harder than the stall margin of 1.05 allows',
    'begin the turn towards 68 kt and come out of it at 81 kt, the speed changing evenly with the heading',
    'go for 76 kt after the turn, then let the speed change evenly with the height, to 67 kt where the flare begins at 23 ft',
    'align earlier: from a leg at 45° to the centreline begin 540 ft beside it, with up to 18° of bank, and take the bank off over the last 9 s',
  ]);
  // By hand: closing at v = 76 kt · sin 45° = 27.6 m/s, a = g · tan 18° = 3.19 m/s², v²/2a + a · (4.5 s)²/2 + v · 0.5 s = 166 m.
  // Every part is put back once, and together they are all there is.
  expect(putBack.flat().sort()).toEqual(Object.keys(found).sort());
  expect(words.map(({ worthFt }) => worthFt)).toEqual([null, 20, 30, 40]);
  expect(words.map(({ teachable }) => teachable)).toEqual([false, false, false, true]);
  expect(words[1]?.because).toMatch(/^it leaves 5 % over the stall speed of the moment in the turn: .*simulator/);
  expect(describeTechnique(request, given, given, () => 0)).toEqual([]);
});

// The window may close before the height that the technique given needs, or where that has none at all.
test.each([
  { name: 'a head wind of 10 kt', changes: { weather: surfaceWind(90, 10) } },
  { name: 'a crosswind', changes: { weather: surfaceWind(0, 12) } },
  { name: 'a short runway', changes: { runway: { lengthFt: 2600 } } },
  {
    name: 'a slow trainer',
    changes: {
      aircraft: {
        massKg: 1000,
        wingAreaM2: 16.2,
        wingSpanM: 11,
        stallCleanKcas: 48,
        stallLandingKcas: 42,
        bestGlideKcas: 65,
        bestGlideRatio: 9,
        climb: [{ kcas: 70, rateFpm: 700 }],
        gearDragCoefficient: 0,
        landingRollFt: 600,
      },
      technique: { climbKcas: 70, targetKcas: 68, gearDownHeightFt: null },
    },
  },
])('with $name it is never worse than the technique given, and it flies', ({ changes }) => {
  const request = requestR({ ...changes, technique: { turn: 'left', ...changes.technique } });
  const given = lowestStopFt(returnWindows(request).windows);
  const found = optimise(request, { rounds: 10, lowestReturnFt: given });
  if (found === null) throw new Error(`no return was found, the technique given returns from ${given} ft`);
  expect(found.lowestReturnFt).toBeLessThanOrEqual(given ?? 3_000);
  const heightFt = found.lowestReturnFt;
  const failure = { ...request.failure, heightFt };
  expect(flyAttempt({ ...request, technique: found.technique, failure }).outcome).toBe('stopped-on-runway');
});

// The free search of freeSearch.fixture.ts returns R from 422 ft in this wind; ten rounds come within 15 % of it.
test('in a head wind of 10 kt it finds a return far below that of the technique given, none below the free one', () => {
  const request = requestR({ weather: surfaceWind(90, 10), technique: { turn: 'left' } });
  const found = optimise(request, { rounds: 10, lowestReturnFt: 597 });
  expect(found?.lowestReturnFt).toBeGreaterThan(422);
  expect(found?.lowestReturnFt).toBeLessThan(1.15 * 422);
});

test('the same seed finds the same, more rounds find no worse, and it stops when told to', () => {
  const request = requestR({ technique: { turn: 'left' } });
  const few = optimise(request, { rounds: 20, lowestReturnFt: 636 });
  expect(optimise(request, { rounds: 20, lowestReturnFt: 636 })).toEqual(few);
  let asked = 0;
  const stopped = optimise(request, { rounds: 500, lowestReturnFt: 636, shouldStop: () => ++asked > 3 });
  expect(stopped?.lowestReturnFt).toBeGreaterThanOrEqual(few?.lowestReturnFt ?? 0);
});

test('landing ahead has nothing to optimise, and rounds are checked', () => {
  expect(optimise(requestR({ technique: { turn: 'ahead' } }))).toBeNull();
  expect(() => optimise(requestR(), { rounds: 5 })).toThrow('rounds must be a whole number from 10 to 2000, got 5');
});
