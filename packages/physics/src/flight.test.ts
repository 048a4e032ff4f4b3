// The equations of motion against the closed forms of a steady gliding turn, and the stalled wing.
import { expect, test } from 'vitest';
import { deriveAeroplane } from './aeroplane.js';
import type { DayAir } from './atmosphere.js';
import { glidingTurn } from './closedForms.js';
import { FlightModel } from './flight.js';
import { AIRCRAFT_R } from './reference.fixture.js';
import { SEA_LEVEL_DENSITY_KG_M3 } from './standardAir.js';
import { BANK, H, LIFT, POWER, STATE_SIZE, VH, VX, VY } from './state.js';
import { turnLoops } from './turnLoop.fixture.js';
import { wrapRad } from './units.js';
import { windProfile } from './wind.js';

const UNIFORM: DayAir = {
  pressureHeightM: 0,
  surfaceDensityKgM3: SEA_LEVEL_DENSITY_KG_M3,
  lapsePerM: 0,
  densityKgM3: () => SEA_LEVEL_DENSITY_KG_M3,
};

function gliding(lift: number, bankRad: number) {
  const plane = deriveAeroplane(AIRCRAFT_R);
  const model = new FlightModel(plane, UNIFORM, windProfile([], 0));
  const glide = { ...plane, densityKgM3: SEA_LEVEL_DENSITY_KG_M3 };
  const turn = glidingTurn(glide, lift, bankRad);
  const state = new Float64Array(STATE_SIZE);
  state[H] = 3000;
  state[VX] = turn.tasMps * Math.cos(turn.pathRad);
  state[VH] = turn.tasMps * Math.sin(turn.pathRad);
  state[BANK] = bankRad;
  state[LIFT] = lift;
  state[POWER] = 0;
  return { model, state, turn };
}

test.each([
  { lift: 0.7, bankDeg: 30 },
  { lift: 1.1, bankDeg: 45 },
  { lift: 1.19, bankDeg: 60 },
])('a gliding turn at CL $lift and $bankDeg° goes on for ever as the closed form has it', ({ lift, bankDeg }) => {
  const { model, state, turn } = gliding(lift, (bankDeg * Math.PI) / 180);
  const law = (m: FlightModel) => {
    m.bankCommandRad = (bankDeg * Math.PI) / 180;
    m.liftCommand = lift;
  };
  const from = state[H] as number;
  let turned = 0;
  let heading = 0;
  for (let i = 0; i < 400; i++) {
    model.step(state, 0.05, law);
    const now = Math.atan2(state[VY] as number, state[VX] as number);
    turned += wrapRad(now - heading);
    heading = now;
  }
  expect(turned / 20).toBeCloseTo(turn.rateRadS, 4);
  expect((from - (state[H] as number)) / turned).toBeCloseTo(turn.heightPerRadianM, 2);
  expect(Math.hypot(state[VX] as number, state[VY] as number, state[VH] as number)).toBeCloseTo(turn.tasMps, 3);
});

test('a wing asked for more than it has loses lift, sinks and rolls towards the lower side', () => {
  const { model, state } = gliding(1.25, 0.6);
  state[LIFT] = 1.5;
  model.observe(state);
  expect(model.lift).toBeLessThan(model.liftMax);
  const bank = state[BANK] as number;
  model.step(state, 0.05, (m) => {
    m.bankCommandRad = bank;
    m.liftCommand = 1.6;
  });
  expect(state[BANK]).toBeGreaterThan(bank + 0.01);
});

test('the same formulas written out in one flat loop fly the same turn', () => {
  const { byModel, byFlatLoop } = turnLoops();
  const flat = Float64Array.from(byFlatLoop(150));
  const flown = byModel(150);
  for (let i = 0; i < flown.length; i++) expect(flown[i]).toBeCloseTo(flat[i] ?? Number.NaN, 7);
});
