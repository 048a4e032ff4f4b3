// One attempt flown by a general-purpose ODE solver at tight tolerance: same equations, same pilot, another integrator.
import type { FlightModel } from './flight.js';
import { PilotProgram } from './pilotProgram.js';
import { resetModel, type Scene } from './scene.js';
import { BANK, H, STATE_SIZE } from './state.js';
import type { Aim } from './steering.js';
import { stripOf } from './strip.js';
import { wrapRad } from './units.js';

/** What is used of odex (Hairer, Nørsett and Wanner's extrapolation method). */
interface OdeSolver {
  denseOutput: boolean;
  absoluteTolerance: number;
  relativeTolerance: number;
  maxStepSize: number;
  initialStepSize: number;
  maxSteps: number;
  /** `output` is called after each accepted step, with an interpolator for it; false ends the integration. */
  solve(
    rates: (x: number, y: number[]) => number[],
    from: number,
    y: number[],
    to: number,
    output: (
      step: number,
      before: number,
      now: number,
      y: number[],
      dense: (component: number, x: number) => number,
    ) => boolean | undefined,
  ): { y: number[]; nEval: number };
}
// The package brings TypeScript source that is not strict: by a name the compiler does not follow it stays out of ours.
const packageName: string = 'odex';
type Odex = { Solver: new (dimensions: number) => OdeSolver };
const loaded = (await import(packageName)) as Odex & { default?: Odex };
// Node hands a CommonJS module over as a default, a loader of TypeScript takes the source and its names.
const { Solver } = loaded.default ?? loaded;

const TOLERANCE = 1e-9;
/** No step may jump over an event (s). */
const LONGEST_STEP_S = 0.25;
const TIME_LIMIT_S = 400;
/** An event this far past is on time (m, m/s or rad). */
const EVENT_TOLERANCE = 1e-9;

/** What the comparison needs of a flight. */
export interface OdeFlight {
  readonly contact: Float64Array;
  readonly heightAt180M: number | null;
  readonly timeS: number;
  /** Evaluations of the derivatives. */
  readonly evaluations: number;
}

/** Flies one aim from the scene's start; the engine is dead from the failure on. */
export function flyByOdeSolver(
  scene: Scene,
  aim: Aim,
  tolerance = TOLERANCE,
  longestStepS = LONGEST_STEP_S,
): OdeFlight {
  resetModel(scene);
  const { model, technique } = scene;
  const program = new PilotProgram(technique, aim, stripOf(scene.request.runway), scene.start[BANK] as number);
  model.rollRateLimitRadS = technique.rollRateRadS;
  model.slipDrag = 0;
  const state = Float64Array.from(scene.start);
  const rates = new Float64Array(STATE_SIZE);
  const given = Array.from(rates); // the solver copies what it is given at once
  const law = (m: FlightModel, s: Float64Array) => program.apply(m, s);
  const set = (y: ArrayLike<number>) => {
    for (let i = 0; i < STATE_SIZE; i++) state[i] = y[i] as number;
  };
  const derivatives = (_timeS: number, y: number[]) => {
    set(y);
    model.derivatives(state, rates, law);
    for (let i = 0; i < STATE_SIZE; i++) given[i] = rates[i] as number;
    return given;
  };
  /** At or above 0 once something changes; the delay is ended by the clock. */
  const due = (y: ArrayLike<number>): number => {
    set(y);
    const heightM = state[H] as number;
    const reacted = program.phase !== 'delay';
    const { gearDownM, flapDownM } = technique;
    const gear = reacted && !model.gearDown && gearDownM !== null ? gearDownM - heightM : -1;
    const final = program.phase === 'align' || program.phase === 'final';
    const flap = final && !model.flapDown && flapDownM !== null ? flapDownM - heightM : -1;
    return Math.max(-program.heightM(state), program.phaseEnd(state), gear, flap);
  };
  const headingOf = (y: ArrayLike<number>): number => {
    set(y);
    model.observe(state);
    return Math.atan2(model.airY, model.airX);
  };
  let y = Array.from(scene.start);
  let timeS = 0;
  let evaluations = 0;
  let heading = headingOf(y);
  let turned = 0;
  let heightAt180M: number | null = null;
  while (timeS < TIME_LIMIT_S) {
    const solver = new Solver(STATE_SIZE);
    solver.denseOutput = true;
    solver.absoluteTolerance = tolerance;
    solver.relativeTolerance = tolerance;
    solver.maxStepSize = longestStepS;
    solver.initialStepSize = 1e-3;
    solver.maxSteps = 100_000;
    const inDelay = program.phase === 'delay';
    const until = inDelay ? technique.delayS : TIME_LIMIT_S + 1;
    let event: { timeS: number; y: number[] } | null = null;
    const end = solver.solve(derivatives, timeS, y, until, (_n, before, now, after, dense) => {
      if (now === before) return undefined;
      const at = (x: number) => {
        if (x === now) return after;
        const y = after.slice();
        for (let i = 0; i < STATE_SIZE; i++) y[i] = dense(i, x);
        return y;
      };
      let endS = now;
      if (due(after) >= 0) {
        endS = crossing((x) => due(at(x)), before, now);
        event = { timeS: endS, y: at(endS).slice() };
      }
      const from = turned;
      const reached = headingOf(at(endS));
      turned += wrapRad(reached - heading);
      if (heightAt180M === null && Math.abs(turned) >= Math.PI) {
        const half = (x: number) => Math.abs(from + wrapRad(headingOf(at(x)) - heading)) - Math.PI;
        heightAt180M = at(crossing(half, before, endS))[H] as number;
      }
      heading = reached;
      return event === null ? undefined : false;
    });
    evaluations += end.nEval;
    const stop = event as { timeS: number; y: number[] } | null;
    y = stop === null ? end.y : stop.y;
    timeS = stop === null ? until : stop.timeS;
    state.set(y);
    model.observe(state);
    if (program.heightM(state) <= 1e-6) break;
    if (inDelay && stop === null) program.advance(model, state);
    change(program, scene, state);
  }
  return { contact: Float64Array.from(y), heightAt180M, timeS, evaluations };
}

/** Carries out what is due at an event. */
function change(program: PilotProgram, { model, technique }: Scene, state: Float64Array): void {
  for (let i = 0; i < 6; i++) {
    if (program.phaseEnd(state) >= -1e-9) program.advance(model, state);
    const heightM = state[H] as number;
    if (program.phase === 'delay') return;
    if (technique.gearDownM !== null && heightM <= technique.gearDownM + 1e-9) model.gearDown = true;
    const final = program.phase === 'align' || program.phase === 'final';
    if (final && technique.flapDownM !== null && heightM <= technique.flapDownM + 1e-9) model.flapDown = true;
  }
}

/** Where a value reaches 0 between two times, by regula falsi (Illinois); the later side of it. */
function crossing(value: (x: number) => number, from: number, to: number): number {
  let low = from;
  let high = to;
  let lowValue = value(low);
  let highValue = value(high);
  let side = 0;
  for (let i = 0; i < 48 && high - low > 1e-12; i++) {
    const guess = high - (highValue * (high - low)) / (highValue - lowValue);
    const trial = guess > low && guess < high ? guess : (low + high) / 2;
    const found = value(trial);
    if (found >= 0) {
      high = trial;
      highValue = found;
      if (found < EVENT_TOLERANCE) return high;
      if (side === 1) lowValue /= 2;
      side = 1;
    } else {
      low = trial;
      lowValue = found;
      if (side === -1) highValue /= 2;
      side = -1;
    }
  }
  return high;
}
