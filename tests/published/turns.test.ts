// Turns, load factors and the turnback literature against printed figures.
import {
  bestGlide,
  GRAVITY_MPS2,
  glidingTurn,
  heightPerRadianShallowM,
  LEAST_SINK_SPEED_SHARE,
  loadFactor,
  M_PER_FT,
  MPS_PER_FPM,
  MPS_PER_KT,
  RAD_PER_DEG,
  stallSpeedFactor,
  turnRadiusM,
  turnRateRadS,
} from '@stillprop/physics';
import { expect, test } from 'vitest';

// Definitions: 1852 m in a nautical mile, 0.3048 m in a foot, g 9.80665 m/s².
test('units are exact', () => {
  expect(Math.abs(MPS_PER_KT / M_PER_FT - 1.68781)).toBeLessThan(1e-6);
  expect(Math.abs(MPS_PER_KT / MPS_PER_FPM - 101.2686)).toBeLessThan(1e-3);
  expect(Math.abs(GRAVITY_MPS2 / M_PER_FT - 32.17405)).toBeLessThan(1e-5);
});

// FAA-H-8083-25C ch. 5: rate 1091 tanφ/V, radius V²/(11.26 tanφ). Its rounded constants are 0.11 % and 0.30 % off.
test.each([
  { kt: 120, bankDeg: 30, rateDegS: 5.25, radiusFt: 2215 },
  { kt: 240, bankDeg: 30, rateDegS: 2.62, radiusFt: 8860 },
])('rate and radius at $kt kt and $bankDeg°', ({ kt, bankDeg, rateDegS, radiusFt }) => {
  const rate = turnRateRadS(kt * MPS_PER_KT, bankDeg * RAD_PER_DEG) / RAD_PER_DEG;
  const radius = turnRadiusM(kt * MPS_PER_KT, bankDeg * RAD_PER_DEG) / M_PER_FT;
  expect(Math.abs(rate - rateDegS)).toBeLessThan(0.01);
  expect(Math.abs(radius / radiusFt - 1)).toBeLessThan(0.0035);
});

// The same with exact constants, recomputed.
test.each([
  { kt: 65, bankDeg: 45, radiusFt: 374.1, rateDegS: 16.8, halfTurnS: 10.71 },
  { kt: 75, bankDeg: 45, radiusFt: 498, rateDegS: 14.56, halfTurnS: 12.36 },
  { kt: 75, bankDeg: 30, radiusFt: 862.6, rateDegS: 8.41, halfTurnS: 21.41 },
])('exact turn at $kt kt and $bankDeg°', ({ kt, bankDeg, radiusFt, rateDegS, halfTurnS }) => {
  const rate = turnRateRadS(kt * MPS_PER_KT, bankDeg * RAD_PER_DEG) / RAD_PER_DEG;
  expect(Math.abs(turnRadiusM(kt * MPS_PER_KT, bankDeg * RAD_PER_DEG) / M_PER_FT - radiusFt)).toBeLessThan(0.1);
  expect(Math.abs(rate - rateDegS)).toBeLessThan(0.01);
  expect(Math.abs(180 / rate - halfTurnS)).toBeLessThan(0.01);
});

// FAA-H-8083-25C ch. 5, load factor chart; recomputed.
test.each([
  { bankDeg: 15, n: 1.035, stall: 1.0175 },
  { bankDeg: 30, n: 1.155, stall: 1.0746 },
  { bankDeg: 45, n: Math.SQRT2, stall: 1.1892 },
  { bankDeg: 60, n: 2, stall: Math.SQRT2 },
  { bankDeg: 75, n: 3.864, stall: 1.9656 },
])('load factor and stall speed at $bankDeg°', ({ bankDeg, n, stall }) => {
  const factor = loadFactor(bankDeg * RAD_PER_DEG);
  expect(Math.abs(factor - n)).toBeLessThan(0.001);
  expect(Math.abs(stallSpeedFactor(factor) - stall)).toBeLessThan(5e-4);
});

// Invented aeroplane: 2300 lb, 170 ft², ρ 0.0023769 slug/ft³, CD = 0.036 + 0.056 CL², CLmax 1.5.
const SLUG_FT3 = 515.3788;
const LB_N = 4.4482216152605;
const INVENTED = {
  weightN: 2300 * LB_N,
  wingAreaM2: 170 * M_PER_FT ** 2,
  densityKgM3: 0.0023769 * SLUG_FT3,
  dragZeroLift: 0.036,
  inducedFactor: 0.056,
};
const NEAR_STALL_LIFT = 1.5 / 1.05 ** 2;

// Rogers, Journal of Aircraft 32(2), 1995: 4(W/S)CD/(ρ g CL² sin2φ) per radian, least at 45° whatever the polar.
test.each([
  { bankDeg: 15, share: 2 },
  { bankDeg: 20, share: 1.5557 },
  { bankDeg: 30, share: 1.1547 },
  { bankDeg: 40, share: 1.0154 },
  { bankDeg: 50, share: 1.0154 },
  { bankDeg: 60, share: 1.1547 },
])('a turn at $bankDeg° costs $share of one at 45°', ({ bankDeg, share }) => {
  const at = (deg: number) => heightPerRadianShallowM(INVENTED, NEAR_STALL_LIFT, deg * RAD_PER_DEG);
  expect(Math.abs(at(bankDeg) / at(45) - share)).toBeLessThan(1e-4);
});

// Same formula and its exact form, worked out independently for the invented aeroplane at 1.05 times the stall speed.
test.each([
  { bankDeg: 15, shallowFt: 335.5, exactFt: 331.7 },
  { bankDeg: 30, shallowFt: 193.7, exactFt: 191 },
  { bankDeg: 45, shallowFt: 167.7, exactFt: 164.3 },
  { bankDeg: 60, shallowFt: 193.7, exactFt: 185.8 },
])('height lost in a half turn at $bankDeg°', ({ bankDeg, shallowFt, exactFt }) => {
  const bank = bankDeg * RAD_PER_DEG;
  const feet = (perRadianM: number) => (perRadianM * Math.PI) / M_PER_FT;
  expect(Math.abs(feet(heightPerRadianShallowM(INVENTED, NEAR_STALL_LIFT, bank)) - shallowFt)).toBeLessThan(0.1);
  expect(Math.abs(feet(glidingTurn(INVENTED, NEAR_STALL_LIFT, bank).heightPerRadianM) - exactFt)).toBeLessThan(0.1);
});

// Steady gliding turn (flight mechanics texts), worked out independently.
test('speed, path, radius and time of the gliding half turn at 45°', () => {
  const turn = glidingTurn(INVENTED, NEAR_STALL_LIFT, 45 * RAD_PER_DEG);
  expect(Math.abs(turn.tasMps / MPS_PER_KT - 64.12)).toBeLessThan(0.05);
  expect(Math.abs(turn.pathRad / RAD_PER_DEG + 8.26)).toBeLessThan(0.05);
  expect(Math.abs(turn.radiusM / M_PER_FT - 360.2)).toBeLessThan(0.05);
  expect(Math.abs(Math.PI / turn.rateRadS - 10.57)).toBeLessThan(0.05);
});

test.each([
  { margin: 1.05, feet: 164.3 },
  { margin: 1.1, feet: 173.2 },
  { margin: 1.2, feet: 194.9 },
  { margin: 1.3, feet: 222.5 },
])('flown at $margin times the stall speed it costs $feet ft', ({ margin, feet }) => {
  const turn = glidingTurn(INVENTED, 1.5 / margin ** 2, 45 * RAD_PER_DEG);
  expect(Math.abs((turn.heightPerRadianM * Math.PI) / M_PER_FT - feet)).toBeLessThan(0.1);
});

test('in thin air the same turn costs more in inverse proportion', () => {
  const thin = { ...INVENTED, densityKgM3: INVENTED.densityKgM3 * 0.76173 };
  const turn = glidingTurn(thin, NEAR_STALL_LIFT, 45 * RAD_PER_DEG);
  expect(Math.abs((turn.heightPerRadianM * Math.PI) / M_PER_FT - 215.7)).toBeLessThan(0.1);
});

// Anderson, Introduction to Flight: parabolic polar.
test('best glide and least sink of the invented polar', () => {
  const best = bestGlide(INVENTED);
  expect(Math.abs(best.lift - 0.8018)).toBeLessThan(1e-3);
  expect(Math.abs(best.ratio - 11.1359)).toBeLessThan(1e-3);
  expect(Math.abs(LEAST_SINK_SPEED_SHARE - 0.75984)).toBeLessThan(1e-5);
});
