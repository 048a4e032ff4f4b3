// The modelled pilot at the controls of a simulation: reacts, pushes, turns back by an aim point or lands ahead, flares, brakes.

import { checkAttemptInputs } from './checkRequest.js';
import type { FlightControls, PitchControl } from './controls.js';
import { chooseReturn } from './flyAttempt.js';
import { type Phase, PilotProgram, techniqueSi } from './pilotProgram.js';
import type { AircraftNumbers, FailureNumbers, RunwayNumbers, TechniqueNumbers, WeatherNumbers } from './request.js';
import { buildScene } from './scene.js';
import type { FlightSimulation } from './simulation.js';
import { BANK, H } from './state.js';
import type { Aim } from './steering.js';
import { stripOf } from './strip.js';
import { MPS_PER_KT } from './units.js';

/** What the pilot knows when the engine stops. */
export interface TurnBackSetup {
  readonly aircraft: AircraftNumbers;
  readonly runway: RunwayNumbers;
  readonly weather: WeatherNumbers;
  readonly technique: TechniqueNumbers;
  readonly failure: Pick<FailureNumbers, 'powerFraction' | 'propeller'>;
}

/**
 * Flies a technique in a {@link FlightSimulation} from the moment it is made: ask `controls` before every step. The
 * aim is searched once, from the state at that moment. Errors of a pilot are put into the technique handed in: a
 * bank, a speed, a delay or a margin other than the one meant.
 *
 * @throws {RangeError} As `flyAttempt`.
 */
export class TurnBackPilot {
  readonly aim: Aim | null;
  private readonly program: PilotProgram;
  private readonly failedAtS: number;
  private readonly technique: TechniqueNumbers;

  constructor(
    private readonly simulation: FlightSimulation,
    setup: TurnBackSetup,
  ) {
    const { runway, technique } = setup;
    const start = simulation.asStart();
    const request = { ...setup, failure: { ...setup.failure, heightFt: 50 } };
    checkAttemptInputs(request, start);
    this.technique = technique;
    this.aim = chooseReturn([buildScene(request, start)]).aim;
    this.program = new PilotProgram(
      techniqueSi(technique),
      this.aim,
      stripOf(runway),
      simulation.state[BANK] as number,
    );
    this.failedAtS = simulation.timeS;
  }

  /** Phase the pilot is in; `flare` also on the ground. */
  get phase(): Phase {
    return this.program.phase;
  }

  /** What the pilot does now. */
  controls(): FlightControls {
    const { simulation, program, technique } = this;
    const { model, state } = simulation;
    model.observe(state);
    if (program.phase === 'delay' && simulation.timeS - this.failedAtS >= technique.delayS - 1e-9)
      program.advance(model, state);
    // Two phases may end at one instant; more than a few cannot.
    for (let i = 0; i < 4 && program.phaseEnd(state) >= 0; i++) program.advance(model, state);
    const reacting = program.phase === 'delay';
    const heightM = state[H] as number;
    const { gearDownM, flapDownM } = program.technique;
    const final = program.phase === 'align' || program.phase === 'final' || program.phase === 'flare';
    return {
      bankRad: reacting ? (state[BANK] as number) : this.bankRad(),
      pitch: this.pitch(),
      gearDown: model.gearDown || (!reacting && gearDownM !== null && heightM <= gearDownM),
      flapDown: model.flapDown || (final && flapDownM !== null && heightM <= flapDownM),
      brake: simulation.onGround ? 1 : 0,
      slipDrag: reacting ? 0 : program.slipDrag(state),
    };
  }

  /** True once the pilot would close an engine that still runs: the glide reaches without it. */
  closesThrottle(): boolean {
    return this.program.throttleDue(this.simulation.state) >= 0;
  }

  private bankRad(): number {
    const { simulation, program } = this;
    const { model, state } = simulation;
    const before = model.bankCommandRad;
    program.steer(model, state);
    const asked = model.bankCommandRad;
    model.bankCommandRad = before; // what is commanded is the simulation's to set
    return asked;
  }

  private pitch(): PitchControl {
    const { program, technique } = this;
    if (program.phase === 'delay') return { kind: 'hold' };
    if (program.phase === 'flare') return { kind: 'flare', slopePerS: program.flareSlopePerS };
    return {
      kind: 'speed',
      kcas: program.targetMps / MPS_PER_KT,
      stallMargin: technique.stallMargin,
      minimumLoadFactor: technique.minimumLoadFactor,
    };
  }
}
