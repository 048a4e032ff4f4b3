// The trade of the climb speed: farther out, less height in the turn.
import { expect, test } from 'vitest';
import { climbTrade } from './climbTrade.js';
import { requestR } from './reference.fixture.js';
import { lowestStopFt, returnWindows } from './returnWindows.js';

const REQUEST_R = requestR();

test('a faster climb of aeroplane R costs distance and saves height in the turn', () => {
  const { choices, flights } = climbTrade(REQUEST_R, { lowestReturnFt: 636 });
  const [slow, , fast] = choices;
  expect(choices.map(({ climbKcas }) => climbKcas)).toEqual([92, 100, 108]);
  // An independent program with the same equations gave 8,517 and 10,691 ft from brake release at 1,000 ft.
  expect(slow?.distanceFt).toBeGreaterThan(8517 * 0.97);
  expect(slow?.distanceFt).toBeLessThan(8517 * 1.03);
  expect(fast?.distanceFt).toBeGreaterThan(10_691 * 0.97);
  expect(fast?.distanceFt).toBeLessThan(10_691 * 1.03);
  expect(fast?.heightLostTo180Ft).toBeLessThan((slow?.heightLostTo180Ft ?? 0) - 50);
  expect(choices.map(({ planned }) => planned)).toEqual([true, false, false]);
  expect(flights).toBeGreaterThan(0);
  expect(slow?.lowestReturnFt).toBe(lowestStopFt(returnWindows(REQUEST_R).windows));
  // Farther out than it can glide back: the trade that the planner must not hide.
  expect(fast?.lowestReturnFt).toBe(lowestStopFt(returnWindows(requestR({ technique: { climbKcas: 108 } })).windows));
});

// At 40 % of power R returns from 264 to 271 ft by a few feet of luck, not from 272 to 299, and again from 300 ft up.
test('the planned speed has the lowest return of the plan, and no speed has that of an island', () => {
  const request = requestR({ failure: { powerFraction: 0.4 } });
  const windowsAt = (climbKcas: number) =>
    returnWindows(requestR({ failure: { powerFraction: 0.4 }, technique: { climbKcas } }), { toFt: 500 }).windows;
  const lowestReturnFt = lowestStopFt(windowsAt(92));
  expect(lowestReturnFt).toBeGreaterThan(290);
  for (const { climbKcas, lowestReturnFt: told } of climbTrade(request, { lowestReturnFt }).choices)
    expect(told).toBe(lowestStopFt(windowsAt(climbKcas)));
  // From 1000 ft there is no return at 108 kt: the window lies below where the search begins.
  const [planned, , fast] = climbTrade(request, { lowestReturnFt: null }).choices;
  expect(planned?.lowestReturnFt).toBeNull();
  expect(fast?.lowestReturnFt).toBe(lowestStopFt(windowsAt(108)));
});

test('a climb point the aeroplane cannot keep up is left out, the planned one is refused', () => {
  const weak = {
    ...REQUEST_R.aircraft,
    climb: [
      { kcas: 92, rateFpm: 1300 },
      { kcas: 180, rateFpm: 60 },
    ],
  };
  const high = { ...REQUEST_R, aircraft: weak, runway: { ...REQUEST_R.runway, elevationFt: 8000 } };
  expect(climbTrade(high).choices.map(({ climbKcas }) => climbKcas)).not.toContain(180);
  const { technique } = high;
  expect(() => climbTrade({ ...high, technique: { ...technique, climbKcas: 180 } })).toThrow(RangeError);
});
