// One departure as pilots of such aeroplanes tell it, and what the model says beside each sentence. Common practice, no source.
import { bestTurn, type FlyRequest, flyAttempt, lowestStopFt, returnWindows, spread } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { RETRACTABLE } from './retractable.js';

/**
 * -4 °C, runway 5900 ft, 9 kt at the surface and 30 kt at 1000 ft from 20° right of it, propeller windmilling in fine
 * pitch. The climb points are such that the day's climb is 1400 ft/min at 96 kt and 1250 ft/min at 110 kt.
 */
function departure(heightFt: number, climbKcas: number, turn: FlyRequest['technique']['turn'] = 'best'): FlyRequest {
  return {
    aircraft: {
      ...RETRACTABLE,
      climb: [
        { kcas: 96, rateFpm: 1264 },
        { kcas: 110, rateFpm: 1097 },
      ],
    },
    runway: {
      name: '18',
      lengthFt: 5900,
      widthFt: 100,
      headingTrueDeg: 180,
      elevationFt: 0,
      surface: 'paved',
      airfield: { beyondEndFt: 800, besideFt: 700 },
    },
    weather: {
      temperatureC: -4,
      qnhHpa: 1013.25,
      winds: [
        { heightFt: 33, fromTrueDeg: 200, speedKt: 9 },
        { heightFt: 1000, fromTrueDeg: 200, speedKt: 30 },
      ],
    },
    technique: {
      climbKcas,
      delayS: 3,
      targetKcas: 85,
      bankDeg: 45,
      turn,
      stallMargin: 1.05,
      rollRateDegS: 30,
      minimumLoadFactor: 0.5,
      gearDownHeightFt: 200,
      flapDownHeightFt: null,
    },
    failure: { heightFt, powerFraction: 0, propeller: 'windmillingFine' },
  };
}
const BEST_RATE = 96;
const CRUISE_CLIMB = 110;

test.each([
  { kcas: BEST_RATE, rateFpm: 1400 },
  { kcas: CRUISE_CLIMB, rateFpm: 1250 },
])('the day’s climb at $kcas kt is $rateFpm ft/min', ({ kcas, rateFpm }) => {
  const { track } = flyAttempt(departure(600, kcas), { trackEveryS: 5 });
  expect(Math.abs(-(track.sinkFpm[0] ?? 0) - rateFpm)).toBeLessThan(15);
});

test('from 500 ft at best-rate speed the runway is not made', () => {
  expect(flyAttempt(departure(500, BEST_RATE)).outcome).not.toBe('stopped-on-runway');
});

test('from 700 ft at best-rate speed the airfield is reached', () => {
  expect(['stopped-on-runway', 'overrun', 'on-airfield']).toContain(flyAttempt(departure(700, BEST_RATE)).outcome);
});

test('from 700 ft in a cruise climb the runway is reached, far along it', () => {
  const { outcome, touchdown } = flyAttempt(departure(700, CRUISE_CLIMB));
  expect(outcome).toBe('stopped-on-runway');
  // It comes in over the end at 5900 ft: more than a third of the runway lies behind the touchdown.
  expect(5900 - touchdown.alongFt).toBeGreaterThan(5900 / 3);
});

test('from 1000 ft it is reached without difficulty: with runway to spare, and from 200 ft lower and higher too', () => {
  for (const climbKcas of [BEST_RATE, CRUISE_CLIMB])
    for (const heightFt of [800, 1000, 1200]) {
      const { outcome, stopMarginFt } = flyAttempt(departure(heightFt, climbKcas));
      expect(outcome).toBe('stopped-on-runway');
      if (heightFt === 1000) expect(stopMarginFt).toBeGreaterThan(500);
    }
});

test('turning to the wrong side costs dearly: more than a hundred feet', () => {
  const { turn, wrongTurn } = bestTurn(departure(600, CRUISE_CLIMB));
  expect(turn).toBe('right'); // into the wind
  expect(wrongTurn.lowestReturnFt).toBeGreaterThan(100);
});

test('below about 400 ft the answer is ahead: no return to the runway is found', () => {
  for (const climbKcas of [BEST_RATE, CRUISE_CLIMB]) {
    const { windows } = returnWindows(departure(500, climbKcas), { fromFt: 100, toFt: 1000 });
    expect(lowestStopFt(windows)).toBeGreaterThan(400);
  }
});

// Where the model differs from the telling: at best-rate speed it finds a narrow window that opens some 50 to 100 ft above
// the 500 ft told as not made. It flies the best aim without a mistake; the spread, not the window, is to be held against
// what pilots call reliable.
test('what the window allows at best-rate speed, the spread does not: from 600 ft it is no reliable return', () => {
  const { heights } = spread(departure(600, BEST_RATE), { heightsFt: [600, 1000], draws: 60 });
  const [low, high] = heights;
  expect(low?.endsWell.share).toBeLessThan(0.7);
  expect(high?.endsWell.share).toBeGreaterThan((low?.endsWell.share ?? 1) + 0.1);
});
