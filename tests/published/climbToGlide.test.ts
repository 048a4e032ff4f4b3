// The climb-to-glide ratio as predictor of the window's shape, the closed-form budget, and the windows of the model beside them.
import {
  type AircraftNumbers,
  climbToGlideRatio,
  type FlyRequest,
  lowestStopFt,
  M_PER_FT,
  MPS_PER_FPM,
  MPS_PER_KT,
  RAD_PER_DEG,
  type ReturnWindow,
  returnWindows,
  turnbackBudget,
} from '@stillprop/physics';
import { expect, test } from 'vitest';

const NUMBERS = [
  { rateFpm: 700, kt: 75, ratio: 9 },
  { rateFpm: 1100, kt: 80, ratio: 10.5 },
  { rateFpm: 500, kt: 70, ratio: 8 },
];
const si = ({ rateFpm, kt, ratio }: { rateFpm: number; kt: number; ratio: number }) => ({
  tasMps: kt * MPS_PER_KT,
  climbRateMps: rateFpm * MPS_PER_FPM,
  glideRatio: ratio,
});

// Ratio of climb to glide angle (D. F. Rogers, turnback articles), recomputed: 5.288/6.340, 7.804/5.440, 4.045/7.125.
test.each([0.8341, 1.4344, 0.5677])('climb-to-glide ratio %f', (expected) => {
  const numbers = NUMBERS[[0.8341, 1.4344, 0.5677].indexOf(expected)] as (typeof NUMBERS)[0];
  expect(Math.abs(climbToGlideRatio(si(numbers)) - expected)).toBeLessThan(1e-3);
});

const budget = (which: 0 | 1, heightFt: number) =>
  turnbackBudget({
    ...si(NUMBERS[which] as (typeof NUMBERS)[0]),
    failureHeightM: heightFt * M_PER_FT,
    bankRad: 45 * RAD_PER_DEG,
    delayS: 4,
    liftoffM: 900 * M_PER_FT,
    runwayM: (which === 0 ? 3000 : 5000) * M_PER_FT,
  });

// Closed-form budget to the runway end, worked out independently of this package; own construction, not from the literature.
test.each([
  {
    which: 0 as const,
    heightFt: 700,
    run: 7563,
    beyond: 5969,
    radius: 498,
    turnDeg: 189.54,
    turnS: 13.02,
    turn: 259,
    straight: 663,
    margin: -222,
  },
  {
    which: 0 as const,
    heightFt: 1000,
    run: 10804,
    beyond: 9210,
    radius: 498,
    turnDeg: 186.19,
    turnS: 12.79,
    turn: 254,
    straight: 1023,
    margin: -278,
  },
  {
    which: 1 as const,
    heightFt: 700,
    run: 5108,
    beyond: 1548,
    radius: 567,
    turnDeg: 220.21,
    turnS: 16.13,
    turn: 293,
    straight: 147,
    margin: 259,
  },
  {
    which: 1 as const,
    heightFt: 1000,
    run: 7297,
    beyond: 3737,
    radius: 567,
    turnDeg: 197.25,
    turnS: 14.45,
    turn: 263,
    straight: 356,
    margin: 381,
  },
])(
  'budget $which from $heightFt ft',
  ({ which, heightFt, run, beyond, radius, turnDeg, turnS, turn, straight, margin }) => {
    const found = budget(which, heightFt);
    const feet = (metres: number) => metres / M_PER_FT;
    expect(Math.abs(feet(found.climbRunM) - run)).toBeLessThan(1);
    expect(Math.abs(feet(found.beyondEndM) - beyond)).toBeLessThan(1);
    expect(Math.abs(feet(found.radiusM) - radius)).toBeLessThan(1);
    expect(Math.abs(found.turnRad / RAD_PER_DEG - turnDeg)).toBeLessThan(0.01);
    expect(Math.abs(found.turnS - turnS)).toBeLessThan(0.01);
    expect(Math.abs(feet(found.lostInTurnM) - turn)).toBeLessThan(1);
    expect(Math.abs(feet(found.lostStraightM) - straight)).toBeLessThan(1);
    expect(Math.abs(feet(found.marginM) - margin)).toBeLessThan(1);
  },
);

// d(margin)/dh = 1 - cot(climb angle)/E far out: -0.200 below a ratio of 1, +0.305 above it; recomputed.
test.each([
  { which: 0 as const, slope: -0.2 },
  { which: 1 as const, slope: 0.305 },
])('far out each foot higher is worth $slope ft', ({ which, slope }) => {
  const found = (budget(which, 200_000).marginM - budget(which, 190_000).marginM) / (10_000 * M_PER_FT);
  expect(Math.abs(found - slope)).toBeLessThan(0.002);
});

/** An invented light two-seater; its climb is what changes. */
const climber = (rateFpm: number): AircraftNumbers => ({
  name: 'invented two-seater',
  massKg: 1050,
  wingAreaM2: 16,
  wingSpanM: 11,
  stallCleanKcas: 50,
  stallLandingKcas: 44,
  bestGlideKcas: 70,
  bestGlideRatio: 9,
  bestGlidePropeller: 'coarse',
  propellerSinkFactor: { coarse: 1 },
  climb: [{ kcas: 72, rateFpm }],
  gearDragCoefficient: 0,
  flapDragCoefficient: 0.04,
  takeoffTo50FtFt: 1500,
  landingRollFt: 700,
});

function windowsOf(rateFpm: number, lengthFt: number): readonly ReturnWindow[] {
  const request: FlyRequest = {
    aircraft: climber(rateFpm),
    runway: {
      name: '09',
      lengthFt,
      widthFt: 75,
      headingTrueDeg: 90,
      elevationFt: 0,
      surface: 'paved',
      airfield: { beyondEndFt: 600, besideFt: 500 },
    },
    weather: { temperatureC: 15, qnhHpa: 1013.25, winds: [] },
    technique: {
      climbKcas: 72,
      delayS: 3,
      targetKcas: 66,
      bankDeg: 45,
      turn: 'left',
      stallMargin: 1.05,
      rollRateDegS: 30,
      minimumLoadFactor: 0.5,
      gearDownHeightFt: null,
      flapDownHeightFt: null,
    },
    failure: { heightFt: 500, powerFraction: 0, propeller: 'coarse' },
  };
  return returnWindows(request, { fromFt: 150, toFt: 2500 }).windows.filter(
    ({ outcome }) => outcome === 'stopped-on-runway',
  );
}

// Rogers: above 1 a properly flown return generally works, below 1 only from a narrow band of heights and runways, or not.
test('below a ratio of 1 the window is a band that closes upwards, wider the longer the runway, or there is none', () => {
  expect(climbToGlideRatio(si({ rateFpm: 600, kt: 72, ratio: 9 }))).toBeLessThan(0.8);
  expect(windowsOf(600, 4000)).toEqual([]);
  const [short] = windowsOf(600, 6000);
  const [long] = windowsOf(600, 8000);
  for (const band of [short, long]) {
    expect(band?.fromIsScanEnd).toBe(false);
    expect(band?.toIsScanEnd).toBe(false);
  }
  expect(long?.toFt).toBeGreaterThan((short?.toFt ?? Number.POSITIVE_INFINITY) + 200);
});

test('above a ratio of 1 the same window stays open upwards', () => {
  expect(climbToGlideRatio(si({ rateFpm: 900, kt: 72, ratio: 9 }))).toBeGreaterThan(1);
  const windows = windowsOf(900, 4000);
  expect(windows).toHaveLength(1);
  expect(windows[0]?.toIsScanEnd).toBe(true);
  expect(lowestStopFt(windows)).toBeLessThan(500);
});
