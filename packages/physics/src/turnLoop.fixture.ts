// One turn of the reference aeroplane ready to be flown by the model and by the flat loop, from the same state.

import { flyFlatTurn } from './flatTurn.fixture.js';
import type { FlightModel } from './flight.js';
import { PilotProgram } from './pilotProgram.js';
import { requestR } from './reference.fixture.js';
import { buildScene, resetModel } from './scene.js';
import { LAPSE_K_PER_M, PRESSURE_EXPONENT, SEA_LEVEL_K } from './standardAir.js';
import { H, POWER } from './state.js';
import { stripOf } from './strip.js';

const AIM_M = 1500;
const STEP_S = 0.1;

/** Flies `steps` of the turn from 2 000 m up, so that no step is near the ground, and returns the end state. */
export function turnLoops() {
  const scene = buildScene(requestR({ failure: { heightFt: 1000 } }), undefined);
  resetModel(scene);
  const { model, technique } = scene;
  model.rollRateLimitRadS = technique.rollRateRadS;
  const start = Float64Array.from(scene.start);
  start[H] = 2000;
  start[POWER] = 0;
  const state = Float64Array.from(start);
  const density = {
    surface: model.air.surfaceDensityKgM3,
    lapsePerM: LAPSE_K_PER_M / SEA_LEVEL_K,
    exponentRest: PRESSURE_EXPONENT - 5.25,
  };
  return {
    byModel: (steps: number): Float64Array => {
      state.set(start);
      const program = new PilotProgram(technique, { side: 1, aimM: AIM_M }, stripOf(scene.request.runway), 0);
      model.observe(state);
      program.advance(model, state);
      const law = (m: FlightModel, s: Float64Array) => program.apply(m, s);
      for (let i = 0; i < steps; i++) model.step(state, STEP_S, law);
      return state;
    },
    byFlatLoop: (steps: number): Float64Array => {
      state.set(start);
      flyFlatTurn(model, technique, AIM_M, 1, state, steps, STEP_S, density);
      return state;
    },
  };
}
