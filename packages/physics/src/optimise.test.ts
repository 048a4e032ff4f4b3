// The free search: close to the numerical bound, within the technique's limits, and flown again from what it tells.
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { optimise } from './optimise.js';
import { requestR } from './reference.fixture.js';

// A free search over bank and speed schedules by an independent program (differential evolution, same lags and limits)
// returned R from 495 ft with 45° and margin 1.05, 525 ft with margin 1.1, 660 ft with 30°: bounds for any guidance.
test.each([
  { technique: {}, boundFt: 495, within: 1.05 },
  { technique: { bankDeg: 30 }, boundFt: 660, within: 1.05 },
  { technique: { stallMargin: 1.1 }, boundFt: 525, within: 1.07 },
])('$technique returns from within a few per cent of $boundFt ft', ({ technique, boundFt, within }) => {
  const request = requestR({ technique: { turn: 'left', ...technique } });
  const found = optimise(request, { rounds: 80 });
  expect(found?.lowestReturnFt).toBeGreaterThan(boundFt);
  expect(found?.lowestReturnFt).toBeLessThan(within * boundFt);
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

test('it says what is different, what that is worth, and what no one should try near the ground', () => {
  const words = optimise(requestR({ technique: { turn: 'left' } }), { rounds: 40 })?.words ?? [];
  const turn = words.find(({ text }) => text.startsWith('turn slower'));
  expect(turn?.worthFt).toBeGreaterThan(30);
  expect(turn?.teachable).toBe(false);
  expect(turn?.because).toMatch(/% over the stall speed of the moment in the turn: practice for a simulator/);
  for (const { text, because } of words) {
    expect(text).toMatch(/\d+( kt|° of bank)$/);
    expect(because).not.toBe('');
  }
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
