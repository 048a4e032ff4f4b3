// Where returns work: windows, sides, trades and the lowest height from a recorded moment.
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import type { TechniqueNumbers } from './request.js';
import { lowestReturnFt } from './returnHeight.js';

const made = (heightFt: number, change: Parameters<typeof requestR>[0] = {}) =>
  flyAttempt(requestR({ ...change, failure: { heightFt } })).outcome === 'stopped-on-runway';

function openingFt(change: Parameters<typeof requestR>[0] = {}): number {
  for (let heightFt = 500; heightFt <= 1500; heightFt += 20) if (made(heightFt, change)) return heightFt;
  return Number.POSITIVE_INFINITY;
}

// Independent program with the same equations: opens between 600 and 720 ft, closes above 1500 ft; no guidance with
// these limits could open it below 495 ft.
test('in still air the window opens where the independent program found it, and is open to 1500 ft', () => {
  const opening = openingFt();
  expect(opening).toBeGreaterThanOrEqual(600);
  expect(opening).toBeLessThanOrEqual(720);
  for (let heightFt = opening; heightFt <= 1500; heightFt += 100) expect(made(heightFt)).toBe(true);
});

test('a failure at 1000 ft ends stopped on the runway, aligned and level', () => {
  const flown = flyAttempt(requestR());
  expect(flown.outcome).toBe('stopped-on-runway');
  expect(Math.abs(flown.touchdown.acrossFt)).toBeLessThan(5);
  expect(Math.abs(flown.touchdown.headingErrorDeg)).toBeLessThan(2);
  expect(Math.abs(flown.touchdown.bankDeg)).toBeLessThan(2);
  expect(flown.touchdown.sinkFpm).toBeLessThan(250);
  expect(flown.stopMarginFt).toBeGreaterThan(500);
  expect(flown.wingsLevelHeightFt).toBeGreaterThan(100);
});

test('less bank and more delay each need more height', () => {
  const opening = openingFt();
  expect(openingFt({ technique: { bankDeg: 30 } })).toBeGreaterThan(opening + 100);
  expect(openingFt({ technique: { delayS: 5 } })).toBeGreaterThan(opening + 20);
});

test('the search takes the best aim: no other aim on a fine grid stops when it does not', () => {
  for (const heightFt of [560, 600, 620]) {
    const request = requestR({ technique: { turn: 'left' }, failure: { heightFt } });
    expect(flyAttempt(request).outcome).not.toBe('stopped-on-runway');
    for (let aimFt = 0; aimFt <= 5000; aimFt += 50)
      expect(flyAttempt(request, { aimFt, stepS: 0.1 }).outcome).not.toBe('stopped-on-runway');
  }
});

test('with a wind along the runway the window closes in an overrun, and flap and sideslip move that edge up', () => {
  const closing = (technique: Partial<TechniqueNumbers>) => {
    let last = 0;
    for (let heightFt = 900; heightFt <= 1700; heightFt += 100)
      if (made(heightFt, { technique, weather: surfaceWind(90, 10) })) last = heightFt;
    return last;
  };
  const plain = closing({});
  expect(plain).toBeLessThan(1500);
  expect(flyAttempt(requestR({ weather: surfaceWind(90, 10), failure: { heightFt: plain + 100 } })).outcome).toBe(
    'overrun',
  );
  expect(closing({ flapDownHeightFt: 600 })).toBeGreaterThan(plain);
  expect(closing({ sideslipDragCoefficient: 0.05 })).toBeGreaterThan(plain);
});

test('in a crosswind the side chosen is at least as good as the other one', () => {
  const request = requestR({ weather: surfaceWind(150, 15), failure: { heightFt: 700 } });
  const best = flyAttempt(request);
  expect(best.outcome).toBe('stopped-on-runway');
  expect(best.turn).toBe('right');
  const wrong = flyAttempt({ ...request, technique: { ...request.technique, turn: 'left' } });
  expect(wrong.outcome).not.toBe('stopped-on-runway');
});

test('half the power left makes a return possible from far lower', () => {
  const request = requestR({ failure: { heightFt: 400, powerFraction: 0.5 } });
  expect(flyAttempt(request).outcome).toBe('stopped-on-runway');
  expect(made(400)).toBe(false);
});

test('an attempt may start from a recorded moment: that of the modelled climb gives the modelled attempt', () => {
  const request = requestR();
  const { track, ...modelled } = flyAttempt(request, { trackEveryS: 1 });
  const recorded = flyAttempt(request, {
    start: {
      alongFt: modelled.failure.distanceFt,
      acrossFt: 0,
      heightFt: 1000,
      ktas: modelled.failure.ktas,
      headingTrueDeg: 90,
      verticalSpeedFpm: -(track.sinkFpm[0] ?? 0),
      bankDeg: 0,
    },
  });
  expect(recorded.outcome).toBe(modelled.outcome);
  expect(recorded.heightLostTo180Ft).toBeCloseTo(modelled.heightLostTo180Ft ?? Number.NaN, 3);
  expect(recorded.touchdown.alongFt).toBeCloseTo(modelled.touchdown.alongFt, 1);
});

test('the lowest return from a moment is made there and missed a little lower', () => {
  const request = requestR({ weather: surfaceWind(120, 8) });
  const first = flyAttempt(request, { trackEveryS: 10 });
  const start = {
    alongFt: first.failure.distanceFt,
    acrossFt: 40,
    heightFt: 1000,
    ktas: first.failure.ktas,
    headingTrueDeg: 92,
    verticalSpeedFpm: 1200,
    bankDeg: 3,
  };
  const lowest = lowestReturnFt(request, { start });
  expect(lowest).not.toBeNull();
  if (lowest === null) return;
  expect(flyAttempt(request, { start: { ...start, heightFt: lowest } }).outcome).toBe('stopped-on-runway');
  expect(flyAttempt(request, { start: { ...start, heightFt: lowest - 10 } }).outcome).not.toBe('stopped-on-runway');
  expect(lowestReturnFt(request, { start })).toBe(lowest);
});

test('there is no lowest return for a technique that lands ahead, nor from 20 miles away', () => {
  expect(lowestReturnFt(requestR({ technique: { turn: 'ahead' } }))).toBeNull();
  const start = {
    alongFt: 95_000,
    acrossFt: 0,
    heightFt: 1000,
    ktas: 93,
    headingTrueDeg: 90,
    verticalSpeedFpm: 0,
    bankDeg: 0,
  };
  expect(lowestReturnFt(requestR(), { start })).toBeNull();
});
