// What each deviation cost: nothing where it was flown as asked, its own row where one thing was not, and rows that add up.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { attemptOf } from './attempt.js';
import { deviationCosts } from './deviationCosts.js';
import { type FlownPilot, flownRecording } from './flown.fixture.js';
import { shelfBundle } from './shelf.fixture.js';
import { degraded } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const { technique } = bundle.scenario;
const costsOf = (pilot: FlownPilot, seed = 0, heightFt = 1300) => {
  const recording = flownRecording(bundle, heightFt, pilot);
  return deviationCosts(attemptOf(seed === 0 ? recording : degraded(recording, seed)));
};

test.each([0, 1, 2])('flown as asked, every row is within 10 ft of nothing (noise %d)', (seed) => {
  const found = costsOf({}, seed);
  expect(Math.abs(found?.totalFt ?? 999)).toBeLessThanOrEqual(10);
  for (const { costFt, code } of found?.rows ?? []) expect(Math.abs(costFt), code).toBeLessThanOrEqual(10);
});

describe('one thing otherwise', () => {
  test.each<[string, FlownPilot, number]>([
    ['delay', { technique: { delayS: technique.delayS + 3 } }, 0],
    ['delay', { technique: { delayS: technique.delayS + 3 } }, 1],
    ['bank', { technique: { bankDeg: technique.bankDeg - 15 } }, 0],
    ['bank', { technique: { bankDeg: technique.bankDeg - 15 } }, 1],
    ['airspeed', { technique: { targetKcas: technique.targetKcas + 12 } }, 0],
    ['airspeed', { technique: { targetKcas: technique.targetKcas + 12 } }, 1],
  ])('%s carries 85 %% of the difference or more, and costs height', (code, pilot, seed) => {
    const found = costsOf(pilot, seed);
    const row = found?.rows.find((each) => each.code === code);
    expect(row?.costFt).toBeGreaterThan(10);
    expect((row?.costFt ?? 0) / (found?.totalFt ?? 1)).toBeGreaterThanOrEqual(0.85);
    expect((row?.costFt ?? 0) / (found?.totalFt ?? 1)).toBeLessThanOrEqual(1.15);
  });

  test('the side is one only where it does not bring back and the other does, or another was asked', () => {
    const sideOf = (turn: 'left' | 'right', asked: 'left' | 'right' | 'best', heightFt: number) => {
      const told = { ...bundle, scenario: { ...bundle.scenario, technique: { ...technique, turn: asked } } };
      const recording = flownRecording(told, heightFt, { technique: { turn } });
      return deviationCosts(attemptOf(recording))?.rows.find(({ code }) => code === 'side');
    };
    // From 1,300 ft either side brings back; from 600 ft right alone does, by the model.
    expect([sideOf('left', 'best', 1300), sideOf('right', 'best', 1300)]).toEqual([undefined, undefined]);
    expect(sideOf('right', 'best', 600)).toBeUndefined();
    expect(sideOf('left', 'best', 600)?.costFt).toBeGreaterThan(10);
    expect(sideOf('left', 'right', 1300)?.text).toBe('Turning left, where right was asked');
  });
});

test('rows add up to the total, whatever is flown', () => {
  const pilots = fc.record({
    delayS: fc.double({ min: 1, max: 7, noNaN: true }),
    bankDeg: fc.integer({ min: 25, max: 50 }),
    targetKcas: fc.integer({ min: 80, max: 100 }),
  });
  fc.assert(
    fc.property(pilots, fc.nat(3), (flown, seed) => {
      const found = costsOf({ technique: flown }, seed, 1500);
      if (found === null) throw new Error('no costs');
      if (found.totalFt === null) throw new Error(found.text);
      expect(found.rows.reduce((sum, { costFt }) => sum + costFt, 0)).toBe(found.totalFt);
      expect((found.neededFlownFt ?? 0) - (found.neededAskedFt ?? 0)).toBe(found.totalFt);
    }),
    { numRuns: 5 },
  );
});

test('nothing is told of a landing ahead, over a floor, or without a decisive action', () => {
  const ahead = shelfBundle('low-and-ahead');
  expect(deviationCosts(attemptOf(flownRecording(ahead, 350, {})))).toBeNull();
  expect(costsOf({ frozen: true }, 0, 700)).toBeNull();
});
