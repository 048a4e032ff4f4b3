// Height from speed, speed lost in a held climb, reaction distance, push-over, teardrop: printed figures against the model's formulas.
import {
  dayAir,
  deriveAeroplane,
  FlightModel,
  flyAttempt,
  GRAVITY_MPS2,
  M_PER_FT,
  MPS_PER_FPM,
  MPS_PER_KT,
  RAD_PER_DEG,
  stateIndex,
  turnbackBudget,
  windProfile,
} from '@stillprop/physics';
import { expect, test } from 'vitest';
import { RETRACTABLE, retractableRequest } from './retractable.js';

const glider = () =>
  new FlightModel(
    deriveAeroplane({ ...RETRACTABLE, stallCleanKcas: 40, stallLandingKcas: 40, bestGlideKcas: 75, bestGlideRatio: 9 }),
    dayAir({ temperatureC: 15, qnhHpa: 1013.25 }, 0),
    windProfile([], 0),
  );

// dV/dt = -g(D/W + sinγ): 75 kt, 700 ft/min, D/W = 1/9 gives 3.875 kt/s; recomputed, point-mass equation.
test('without thrust on a held climb path the speed falls by 3.875 kt a second', () => {
  const model = glider();
  const state = new Float64Array(stateIndex.STATE_SIZE);
  const tas = 75 * MPS_PER_KT;
  state[stateIndex.VH] = 700 * MPS_PER_FPM;
  state[stateIndex.VX] = Math.sqrt(tas ** 2 - (700 * MPS_PER_FPM) ** 2);
  state[stateIndex.H] = 300;
  model.observe(state);
  // Best glide is flown at 75 kt: there D/W is 1/9, lift equal to weight.
  state[stateIndex.LIFT] = model.plane.weightN / model.pressureAreaN;
  model.liftHeld = true;
  const before = model.tasMps;
  model.step(state, 0.01, () => {});
  model.observe(state);
  expect(Math.abs((before - model.tasMps) / 0.01 / MPS_PER_KT - 3.875)).toBeLessThan(0.05);
});

// Energy: (V1² - V2²)/2g; 75 to 65 kt 62.0 ft, 80 to 65 kt 96.3 ft, 90 to 70 kt 141.7 ft; recomputed.
test.each([
  { from: 75, to: 65, feet: 62 },
  { from: 80, to: 65, feet: 96.3 },
  { from: 90, to: 70, feet: 141.7 },
])('a zoom without drag from $from to $to kt gains $feet ft', ({ from, to, feet }) => {
  const model = new FlightModel(
    {
      ...deriveAeroplane({ ...RETRACTABLE, stallCleanKcas: 40, stallLandingKcas: 40 }),
      dragZeroLift: 0,
      inducedFactor: 0,
    },
    dayAir({ temperatureC: 15, qnhHpa: 1013.25 }, 0),
    windProfile([], 0),
  );
  const state = new Float64Array(stateIndex.STATE_SIZE);
  state[stateIndex.H] = 300;
  state[stateIndex.VX] = from * MPS_PER_KT;
  model.observe(state);
  state[stateIndex.LIFT] = (1.3 * model.plane.weightN) / model.pressureAreaN;
  model.liftHeld = true;
  let last = 300;
  let gained = 0;
  for (let i = 0; i < 4000; i++) {
    const fast = model.tasMps;
    model.step(state, 0.01, () => {});
    model.observe(state);
    if (model.tasMps <= to * MPS_PER_KT) {
      const share = (fast - to * MPS_PER_KT) / (fast - model.tasMps);
      gained = last + share * ((state[stateIndex.H] ?? 0) - last) - 300;
      break;
    }
    last = state[stateIndex.H] ?? 0;
  }
  expect(Math.abs(gained / M_PER_FT - feet)).toBeLessThan(0.2);
});

// Change of path in a push to half a g for 2 s at 75 kt: (1 - n)·g·t/V = 14.56°, small-change form; recomputed.
test('two seconds at half a g turn the path down by some 14.6°', () => {
  const model = glider();
  const state = new Float64Array(stateIndex.STATE_SIZE);
  const tas = 75 * MPS_PER_KT;
  // Symmetrical about level flight, where the small-change form holds best.
  state[stateIndex.VX] = tas * Math.cos(7.28 * RAD_PER_DEG);
  state[stateIndex.VH] = tas * Math.sin(7.28 * RAD_PER_DEG);
  state[stateIndex.H] = 300;
  model.liftHeld = true;
  const path = () => Math.atan2(state[stateIndex.VH] ?? 0, state[stateIndex.VX] ?? 0);
  const from = path();
  for (let i = 0; i < 200; i++) {
    model.observe(state);
    state[stateIndex.LIFT] = (0.5 * model.plane.weightN) / model.pressureAreaN;
    model.step(state, 0.01, () => {});
  }
  expect(Math.abs((from - path()) / RAD_PER_DEG - 14.56)).toBeLessThan(0.8);
});

// Delays: 4 s in the Airplane Flying Handbook's example (FAA-H-8083-3C ch. 18), 3 s in flights of the AOPA Air Safety
// Institute (June 2021). V·t: 65 kt 4 s 438.8 ft, 75 kt 3 s 379.8 ft, 75 kt 5 s 632.9 ft; recomputed.
test.each([
  { kt: 65, delayS: 4, feet: 438.8 },
  { kt: 75, delayS: 3, feet: 379.8 },
  { kt: 75, delayS: 5, feet: 632.9 },
])('a delay of $delayS s at $kt kt covers $feet ft', ({ kt, delayS, feet }) => {
  const at = (seconds: number) =>
    turnbackBudget({
      failureHeightM: 200,
      tasMps: kt * MPS_PER_KT,
      climbRateMps: 3,
      glideRatio: 9,
      bankRad: 0.8,
      delayS: seconds,
      liftoffM: 300,
      runwayM: 900,
    }).beyondEndM;
  expect(Math.abs((at(delayS) - at(0)) / M_PER_FT - feet)).toBeLessThan(0.5);
});

// A modelled delay covers a little less, since the aeroplane slows: between the distance at the first and the last speed.
test.each([3, 4, 5])('in the model a delay of %i s covers what its speeds say', (delayS) => {
  const { track, failure, speedLostKt } = flyAttempt(retractableRequest(1000, { delayS }), { trackEveryS: delayS });
  const covered = (track.alongFt[1] ?? 0) - failure.distanceFt;
  const feet = (kt: number) => (kt * MPS_PER_KT * delayS) / M_PER_FT;
  expect(covered).toBeLessThan(feet(failure.ktas));
  expect(covered).toBeGreaterThan(0.97 * feet(failure.ktas - speedLostKt));
});

// Teardrop in still air: after 180° + b the leg to the extended centreline is R·cot(b/2); R 500 ft; recomputed.
test.each([
  { turnDeg: 10, legFt: 5715 },
  { turnDeg: 20, legFt: 2835.6 },
  { turnDeg: 30, legFt: 1866 },
  { turnDeg: 40, legFt: 1373.7 },
])('a teardrop of $turnDeg° beyond the half turn rejoins $legFt ft behind its start', ({ turnDeg, legFt }) => {
  const bankRad = 45 * RAD_PER_DEG;
  const tasMps = Math.sqrt(500 * M_PER_FT * GRAVITY_MPS2);
  const { radiusM, turnRad } = turnbackBudget({
    failureHeightM: legFt * M_PER_FT,
    tasMps,
    climbRateMps: tasMps * Math.SQRT1_2, // 45°: as far out as up
    glideRatio: 9,
    bankRad,
    delayS: 0,
    liftoffM: 1000,
    runwayM: 1000,
  });
  expect(Math.abs(radiusM / M_PER_FT - 500)).toBeLessThan(0.01);
  expect(Math.abs((turnRad - Math.PI) / RAD_PER_DEG - turnDeg)).toBeLessThan(0.01);
});
