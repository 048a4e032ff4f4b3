// Spread: reproducible draw by draw, divisible between workers, with intervals that mean what they say.
import { expect, test } from 'vitest';
import { requestR, surfaceWind } from './reference.fixture.js';
import { addCounts, countSpread, heightForShare, OUTCOMES, type SpreadAtHeight, spread, spreadOf } from './spread.js';
import { DEFAULT_ERRORS, drawnRequest, drawSpread } from './spreadDraw.js';
import { wilson } from './wilson.js';

const request = requestR({ weather: surfaceWind(60, 8) });
const heightsFt = [550, 700, 900];
const NONE = {
  delayLogSd: 0,
  bankSdDeg: 0,
  speedSdKt: 0,
  climbSpeedSdKt: 0,
  windSdKt: 0,
  windSdShare: 0,
  glideLogSd: 0,
  turbulenceAt20FtKt: 0,
};

test('the same seed gives the same answer, another seed another one', () => {
  const options = { heightsFt, draws: 20, seed: 5 };
  expect(spread(request, options)).toEqual(spread(request, options));
  const other = spread(request, { ...options, seed: 6 });
  expect(other.heights.map(({ outcomes }) => outcomes)).not.toEqual(
    spread(request, options).heights.map(({ outcomes }) => outcomes),
  );
});

test('divided between workers in any order it comes to the same', () => {
  const whole = countSpread(request, { heightsFt, draws: 21, seed: 5 });
  const parts = [14, 0, 7].map((firstDraw) => countSpread(request, { heightsFt, draws: 7, firstDraw, seed: 5 }));
  const [first, second, third] = parts as [(typeof parts)[0], (typeof parts)[0], (typeof parts)[0]];
  const together = addCounts(addCounts(first, second), third);
  expect(together).toEqual(whole);
  expect(spreadOf(together, { seed: 5 })).toEqual(spread(request, { heightsFt, draws: 21, seed: 5 }));
});

test('a draw depends on its seed and number alone', () => {
  const draw = drawSpread(request, DEFAULT_ERRORS, 9, 1234);
  for (let i = 0; i < 50; i++) drawSpread(request, DEFAULT_ERRORS, 9, i);
  expect(drawSpread(request, DEFAULT_ERRORS, 9, 1234)).toEqual(draw);
  expect(drawSpread(request, DEFAULT_ERRORS, 9, 1235)).not.toEqual(draw);
});

test('the draws have the distributions stated', () => {
  const count = 20_000;
  const draws = Array.from({ length: count }, (_, i) => drawSpread(request, DEFAULT_ERRORS, 3, i));
  const moments = (values: number[]) => {
    const mean = values.reduce((sum, value) => sum + value, 0) / count;
    return { mean, sd: Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / count) };
  };
  // 20 000 draws know a mean to 0.7 % and a deviation to 0.5 % of the deviation; four times that is allowed.
  const delay = moments(draws.map(({ delayS }) => Math.log(delayS)));
  expect(Math.abs(delay.mean - Math.log(3))).toBeLessThan(0.01);
  expect(Math.abs(delay.sd / 0.35 - 1)).toBeLessThan(0.02);
  const bank = moments(draws.map(({ bankDeg }) => bankDeg));
  expect(Math.abs(bank.mean - 45)).toBeLessThan(0.09);
  expect(Math.abs(bank.sd / 3 - 1)).toBeLessThan(0.02);
  const wind = moments(draws.map(({ windAlongKt }) => windAlongKt));
  expect(Math.abs(wind.sd / (2 + 0.1 * 8) - 1)).toBeLessThan(0.02);
  // Neighbouring draws, and quantities within one, have nothing in common.
  const mixed = draws.reduce((sum, { bankDeg, targetKcas }) => sum + (bankDeg - 45) * (targetKcas - 85), 0);
  expect(Math.abs(mixed / count / 15)).toBeLessThan(0.03);
  const next = draws.slice(1).reduce((sum, draw, i) => sum + (draw.bankDeg - 45) * ((draws[i]?.bankDeg ?? 0) - 45), 0);
  expect(Math.abs(next / count / 9)).toBeLessThan(0.03);
});

test('propeller states are drawn in the shares given', () => {
  const errors = { ...DEFAULT_ERRORS, propellerShares: { coarse: 3, windmillingFine: 1 } };
  const states = Array.from({ length: 4000 }, (_, i) => drawSpread(request, errors, 3, i).propeller);
  const fine = states.filter((state) => state === 'windmillingFine').length / 4000;
  expect(Math.abs(fine - 0.25)).toBeLessThan(0.03);
  expect(states).not.toContain('stopped');
});

test('without errors every flight is the planned one: all well or none', () => {
  const { heights } = spread(request, { heightsFt: [450, 900], draws: 3, errors: NONE });
  expect(heights.map(({ endsWell }) => endsWell.share)).toEqual([0, 1]);
});

test('every flight is counted once, higher ends well more often in still air, and larger errors end well less often', () => {
  const still = spread(requestR(), { heightsFt: [550, 750, 1000], draws: 60 });
  for (const { outcomes } of still.heights)
    expect(OUTCOMES.reduce((sum, outcome) => sum + outcomes[outcome], 0)).toBe(60);
  const shares = still.heights.map(({ endsWell }) => endsWell.share);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares[2]).toBeGreaterThan((shares[0] ?? 1) + 0.3);
  const rough = spread(requestR(), {
    heightsFt: [1000],
    draws: 60,
    errors: { delayLogSd: 0.8, speedSdKt: 12, glideLogSd: 0.15 },
  });
  expect(rough.heights[0]?.endsWell.share).toBeLessThan(shares[2] ?? 0);
});

test('turbulence spreads the outcomes by itself, the same for a seed, and none is none', () => {
  const flown = (turbulenceAt20FtKt: number) =>
    spread(requestR(), { heightsFt: [640, 700], draws: 40, errors: { ...NONE, turbulenceAt20FtKt } }).heights;
  expect(flown(0).map(({ endsWell }) => endsWell.share)).toEqual([1, 1]);
  const rough = flown(30);
  expect(rough).toEqual(flown(30));
  expect(rough[0]?.endsWell.share).toBeGreaterThan(0);
  expect(rough[0]?.endsWell.share).toBeLessThan(1);
  expect(rough[1]?.endsWell.share).toBeGreaterThanOrEqual(rough[0]?.endsWell.share ?? 1);
});

test('a drawn request stays within what an aeroplane can be asked for', () => {
  const errors = { ...DEFAULT_ERRORS, bankSdDeg: 20, speedSdKt: 30, climbSpeedSdKt: 30, delayLogSd: 1.5 };
  for (let i = 0; i < 300; i++) {
    const { technique } = drawnRequest(request, drawSpread(request, errors, 1, i));
    expect(technique.targetKcas).toBeGreaterThanOrEqual(64);
    expect(technique.climbKcas).toBeGreaterThanOrEqual(64);
    expect(technique.bankDeg).toBeGreaterThanOrEqual(10);
    expect(technique.bankDeg).toBeLessThanOrEqual(70);
    expect(technique.delayS).toBeLessThanOrEqual(30);
  }
});

test('it stops when told to, with what was done', () => {
  let asked = 0;
  const counts = countSpread(request, { heightsFt, draws: 1000, shouldStop: () => ++asked > 4 });
  expect(counts.draws).toBe(4);
  expect(() => spreadOf(countSpread(request, { heightsFt, shouldStop: () => true }))).toThrow(
    'draws must be at least 1',
  );
});

// Newcombe, Statistics in Medicine 17 (1998), table I, method 3 (Wilson without continuity correction); from memory,
// recomputed by hand from the formula.
test.each([
  { count: 81, of: 263, low: 0.2553, high: 0.3662 },
  { count: 15, of: 148, low: 0.0624, high: 0.1605 },
  { count: 0, of: 20, low: 0, high: 0.1611 },
  { count: 1, of: 29, low: 0.0061, high: 0.1718 },
])('Wilson interval of $count of $of', ({ count, of, low, high }) => {
  const share = wilson(count, of);
  expect(share.low).toBeCloseTo(low, 4);
  expect(share.high).toBeCloseTo(high, 4);
});

test('heights for a share are found between the heights flown, and surely only where the interval says so', () => {
  const rows = [
    [500, 100],
    [600, 180],
    [700, 194],
    [800, 200],
  ].map(([heightFt = 0, well = 0]) => ({ heightFt, outcomes: {}, endsWell: wilson(well, 200) }) as SpreadAtHeight);
  expect(heightForShare(rows, 0.95).heightFt).toBeCloseTo(600 + (100 * 10) / 14, 6);
  expect(heightForShare(rows, 0.95).surelyFt).toBe(800);
  expect(heightForShare(rows, 0.999)).toEqual({ share: 0.999, heightFt: expect.closeTo(796.67, 1), surelyFt: null });
  expect(heightForShare(rows.slice(0, 2), 0.95)).toEqual({ share: 0.95, heightFt: null, surelyFt: null });
});

test.each([
  { options: { draws: 0 }, message: 'draws must be a whole number from 1 to 1000000, got 0' },
  { options: { seed: 0.5 }, message: 'seed must be a whole number' },
  { options: { heightsFt: [] }, message: 'heightsFt.length must be 1 to 200, got 0' },
  {
    options: { heightsFt: [800, 700] },
    message: 'heightsFt[1] must be 50 to 6000 ft and above the one before it, got 700',
  },
  { options: { errors: { bankSdDeg: Number.NaN } }, message: 'errors.bankSdDeg must be 0 to 20, got NaN' },
  {
    options: { errors: { propellerShares: { coarse: -1 } } },
    message: 'errors.propellerShares.coarse must be 0 or more',
  },
  { options: { errors: { propellerShares: {} } }, message: 'errors.propellerShares must hold a share above 0' },
])('refuses $options', ({ options, message }) => {
  expect(() => spread(request, options)).toThrow(message);
});
