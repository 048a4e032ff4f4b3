// A scripted pilot at the controls from the failure on: the turn-back pilot of the physics, with habits and a hand that is not quite still.
import type { ScenarioBundle } from '@stillprop/contracts';
import {
  type EngineState,
  type FlightControls,
  type FlightSimulation,
  RAD_PER_DEG,
  type RandomSource,
  TurnBackPilot,
} from '@stillprop/physics';
import { type Habits, techniqueOf } from './habits.js';

/** Reaction times differ a little from one seed to the next (s, one standard deviation, cut at two). */
const REACTION_SPREAD_S = 0.06;
/** A hand on the stick wanders by about this much, slowly: bank (deg) and speed (kt). */
const BANK_WANDER_DEG = 1.2;
const SPEED_WANDER_KT = 0.8;
const BANK_WANDER_S = 5.3;
const SPEED_WANDER_S = 8.9;
/** A pilot who has stalled lets go of the stick after this long (s). */
const LETS_GO_AFTER_S = 1.5;

export class ScriptedPilot {
  private readonly pilot: TurnBackPilot;
  private readonly failedAtS: number;
  private readonly phaseBank: number;
  private readonly phaseSpeed: number;
  private readonly headingAtFailureDeg: number;
  private stalledAtS: number | null = null;

  constructor(
    private readonly simulation: FlightSimulation,
    private readonly habits: Habits,
    bundle: ScenarioBundle,
    engine: EngineState,
    random: RandomSource,
  ) {
    const wobbleS = REACTION_SPREAD_S * Math.max(-2, Math.min(2, random.normal()));
    this.phaseBank = random.uniform() * 2 * Math.PI;
    this.phaseSpeed = random.uniform() * 2 * Math.PI;
    this.failedAtS = simulation.timeS;
    this.headingAtFailureDeg = simulation.read().headingDeg;
    this.pilot = new TurnBackPilot(simulation, {
      aircraft: bundle.aircraft,
      runway: bundle.runway,
      weather: bundle.weather,
      technique: techniqueOf(habits, bundle.scenario.technique, wobbleS),
      failure: { powerFraction: Math.min(engine.powerFraction, 0.99), propeller: engine.propeller },
    });
  }

  /** What the pilot does now. */
  controls(): FlightControls {
    const { simulation, habits } = this;
    if (habits.reactsAfterS === null) return this.nothing();
    const meant = this.pilot.controls();
    if (this.pilot.phase === 'delay' || this.pilot.phase === 'flare' || simulation.onGround) return meant;
    const sinceS = simulation.timeS - this.failedAtS;
    const pulled = this.pulled(meant);
    if (pulled !== null) return pulled;
    const wanderRad = BANK_WANDER_DEG * RAD_PER_DEG * Math.sin((2 * Math.PI * sinceS) / BANK_WANDER_S + this.phaseBank);
    const wanderKt = SPEED_WANDER_KT * Math.sin((2 * Math.PI * sinceS) / SPEED_WANDER_S + this.phaseSpeed);
    return {
      ...meant,
      bankRad: meant.bankRad + wanderRad,
      pitch: meant.pitch.kind === 'speed' ? { ...meant.pitch, kcas: meant.pitch.kcas + wanderKt } : meant.pitch,
    };
  }

  /** True once the pilot closes an engine that still gives some power. */
  closesThrottle(): boolean {
    return this.habits.reactsAfterS !== null && this.pilot.closesThrottle();
  }

  /** The pull that ends in a stall, while it lasts. */
  private pulled(meant: FlightControls): FlightControls | null {
    const { pulls } = this.habits;
    if (pulls === null || this.pilot.aim === null || this.pilot.phase !== 'turn') return null;
    const { simulation } = this;
    const { stalled, headingDeg } = simulation.read();
    if (stalled) this.stalledAtS ??= simulation.timeS;
    if (this.stalledAtS !== null && simulation.timeS - this.stalledAtS > LETS_GO_AFTER_S) return null;
    const turnedDeg = ((((headingDeg - this.headingAtFailureDeg) * this.pilot.aim.side) % 360) + 360) % 360;
    if (turnedDeg < pulls.afterTurnDeg || turnedDeg > 300) return null;
    return {
      ...meant,
      bankRad: this.pilot.aim.side * pulls.bankDeg * RAD_PER_DEG,
      pitch: { kind: 'loadFactor', loadFactor: pulls.loadFactor },
    };
  }

  private nothing(): FlightControls {
    const { model, onGround } = this.simulation;
    return {
      bankRad: 0,
      pitch: { kind: 'hold' },
      gearDown: model.gearDown,
      flapDown: model.flapDown,
      brake: onGround ? 1 : 0,
      slipDrag: 0,
    };
  }
}
