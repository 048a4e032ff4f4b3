// The same flight model, step by step: from brake release to a stop, with somebody else's hands on the controls.
import { deriveAeroplane } from './aeroplane.js';
import { calibratedFromTrue, dayAir } from './atmosphere.js';
import { applyPitch, type EngineState, type FlightControls } from './controls.js';
import { SCREEN_HEIGHT_M } from './departure.js';
import { DeparturePilot } from './departurePilot.js';
import { type ControlLaw, FlightModel, LIFT_LAG_S, POWER_LAG_S } from './flight.js';
import { brakedDecelerationMps2, type GroundConditions, ROLLING_LIFT, rollStep } from './groundMotion.js';
import { referenceTouchdownMps } from './groundRoll.js';
import type { FlightStart } from './request.js';
import { checkSetup, type SimulationReading, type SimulationSetup } from './simulationSetup.js';
import { BANK, H, LIFT, POWER, STATE_SIZE, VH, VX, VY, X, Y } from './state.js';
import { fitTakeoffResistance } from './takeoffFit.js';
import { type Turbulence, turbulence } from './turbulence.js';
import { clamp, compassDeg, M_PER_FT, MPS_PER_FPM, MPS_PER_KT, RAD_PER_DEG } from './units.js';
import { windProfile } from './wind.js';

/** Fixed inner step (s): what is flown does not depend on how often `step` is called. */
export const SIMULATION_STEP_S = 0.01;
/** Time gear and flap take to travel, for show; their drag counts in full from the moment they are moved (s). */
const GEAR_TRAVEL_S = 5;
const FLAP_TRAVEL_S = 4;
/** Angle of attack at no lift, and the section's lift slope; both for the attitude shown only. */
const NO_LIFT_RAD = -3 * RAD_PER_DEG;
const STOPPED_MPS = 0.05;
/** A take-off that is not at 50 ft after this time never will be (s). */
const TAKEOFF_LIMIT_S = 120;

/**
 * One aeroplane on one runway. Starts at brake release with full power set; `step` advances it with the controls
 * given, or with the built-in departure pilot when they are null.
 *
 * @throws {RangeError} If a number of the setup is impossible.
 */
export class FlightSimulation {
  readonly model: FlightModel;
  readonly state = new Float64Array(STATE_SIZE);
  readonly departurePilot: DeparturePilot;
  timeS = 0;
  onGround = true;
  /** Lifted off at least once. */
  flown = false;
  private readonly ground: GroundConditions;
  private readonly gusts: Turbulence | null;
  private readonly law: ControlLaw;
  private readonly setup: SimulationSetup;
  private controls: FlightControls;
  private engine: EngineState = { powerFraction: 1, propeller: 'coarse' };
  private owedS = 0;
  private gearTravel = 1;
  private flapTravel = 0;
  private stalledNow = false;

  /** @param takeoffResistanceMps2 Of the take-off run, beyond drag; fitted to the handbook distance when absent. */
  constructor(setup: SimulationSetup, takeoffResistanceMps2 = fittedResistance(setup)) {
    checkSetup(setup);
    this.setup = setup;
    const { aircraft, runway, weather } = setup;
    const plane = deriveAeroplane(aircraft);
    this.model = new FlightModel(
      plane,
      dayAir(weather, runway.elevationFt),
      windProfile(weather.winds, runway.headingTrueDeg),
    );
    this.model.rollRateLimitRadS = (setup.rollRateDegS ?? 30) * RAD_PER_DEG;
    this.model.gearDown = true;
    this.model.powerTarget = 1;
    this.state[POWER] = 1;
    this.state[LIFT] = ROLLING_LIFT;
    this.ground = {
      brakedMps2: brakedDecelerationMps2(
        aircraft.landingRollFt * M_PER_FT,
        referenceTouchdownMps(plane),
        runway.surface,
      ),
      takeoffResistanceMps2,
      surface: runway.surface,
    };
    this.gusts =
      setup.turbulence === undefined
        ? null
        : turbulence(setup.turbulence.windAt20FtKt * MPS_PER_KT, setup.turbulence.seed);
    this.departurePilot = new DeparturePilot(setup.climbKcas, plane);
    this.controls = this.departurePilot.controls(this);
    this.law = (model, state) => {
      model.bankCommandRad = this.controls.bankRad;
      applyPitch(model, state, this.controls.pitch);
    };
    this.model.observe(this.state);
  }

  /** What the engine gives from now on: less than 1 is a failure, 1 again a restart. */
  setEngine(engine: EngineState): void {
    const drag = this.model.plane.propellerDrag[engine.propeller];
    if (drag === undefined)
      throw new RangeError(`propeller must be a state the aircraft has a sink factor for, got "${engine.propeller}"`);
    if (!(engine.powerFraction >= 0 && engine.powerFraction <= 1))
      throw new RangeError(`powerFraction must be 0 to 1, got ${engine.powerFraction}`);
    this.engine = engine;
    this.model.propellerDrag = drag;
    this.model.powerTarget = engine.powerFraction;
  }

  /**
   * Advances by `dtS` in fixed inner steps; what is left over is flown with the next call.
   *
   * @param controls Held for the whole call; null: the departure pilot flies on and is asked at every inner step.
   */
  step(dtS: number, controls: FlightControls | null): void {
    if (!(dtS >= 0 && dtS <= 60)) throw new RangeError(`dtS must be 0 to 60 s, got ${dtS}`);
    this.owedS += dtS;
    while (this.owedS >= SIMULATION_STEP_S - 1e-9) {
      this.owedS -= SIMULATION_STEP_S;
      this.innerStep(controls ?? this.departurePilot.controls(this));
    }
  }

  /** Fills `into` with the present readings and returns it; allocates only when none is given. */
  read(into: SimulationReading = {} as SimulationReading): SimulationReading {
    const { model, state } = this;
    model.observe(state);
    const runwayRad = this.setup.runway.headingTrueDeg * RAD_PER_DEG;
    const ground = Math.hypot(state[VX] as number, state[VY] as number);
    const track = ground > STOPPED_MPS ? Math.atan2(state[VY] as number, state[VX] as number) : this.restTrack();
    const heading = this.onGround ? track : Math.atan2(model.airY, model.airX);
    into.timeS = this.timeS;
    into.xFt = (state[X] as number) / M_PER_FT;
    into.yFt = (state[Y] as number) / M_PER_FT;
    into.heightFt = (state[H] as number) / M_PER_FT;
    into.kcas = calibratedFromTrue(model.tasMps, model.densityKgM3) / MPS_PER_KT;
    into.ktas = model.tasMps / MPS_PER_KT;
    into.groundspeedKt = ground / MPS_PER_KT;
    into.trackDeg = compassDeg(track + runwayRad);
    into.headingDeg = compassDeg(heading + runwayRad);
    into.bankDeg = (state[BANK] as number) / RAD_PER_DEG;
    into.pitchDeg = this.pitchRad() / RAD_PER_DEG;
    into.verticalSpeedFpm = (state[VH] as number) / MPS_PER_FPM;
    into.loadFactor = this.onGround ? 1 : model.loadFactor;
    into.powerFraction = state[POWER] as number;
    into.onGround = this.onGround;
    into.stalled = this.stalledNow;
    into.gearFraction = this.gearTravel;
    into.flapFraction = this.flapTravel;
    into.stopped = this.onGround && ground <= STOPPED_MPS;
    return into;
  }

  /** The present moment as the start of a modelled flight. */
  asStart(): FlightStart {
    const reading = this.read();
    return {
      alongFt: reading.xFt,
      acrossFt: reading.yFt,
      heightFt: Math.max(reading.heightFt, 0),
      ktas: reading.ktas,
      headingTrueDeg: reading.headingDeg,
      verticalSpeedFpm: reading.verticalSpeedFpm,
      bankDeg: reading.bankDeg,
      loadFactor: reading.loadFactor,
      powerFraction: reading.powerFraction,
      gearDown: this.model.gearDown,
      flapDown: this.model.flapDown,
    };
  }

  private innerStep(controls: FlightControls): void {
    const { model } = this;
    this.controls = controls;
    model.gearDown = controls.gearDown || this.setup.aircraft.gearDragCoefficient === 0;
    model.flapDown = controls.flapDown;
    model.slipDrag = controls.slipDrag;
    this.travel();
    if (this.onGround) this.roll(controls);
    else this.fly();
    this.timeS += SIMULATION_STEP_S;
  }

  private fly(): void {
    const { model, state, gusts } = this;
    if (gusts !== null) {
      gusts.step(SIMULATION_STEP_S, state[H] as number, model.tasMps);
      model.gustX = gusts.alongMps;
      model.gustY = gusts.acrossMps;
      model.gustH = gusts.upMps;
    }
    model.step(state, SIMULATION_STEP_S, this.law);
    model.observe(state);
    this.stalledNow = (state[LIFT] as number) > model.liftMax * (1 + 1e-9);
    if ((state[H] as number) > 0) return;
    // Contact: no bounce, the wheels (or the belly) take what sink there is.
    this.onGround = true;
    this.stalledNow = false;
    state[H] = 0;
    state[VH] = 0;
    state[LIFT] = ROLLING_LIFT;
    model.gustX = 0;
    model.gustY = 0;
    model.gustH = 0;
    model.observe(state);
  }

  private roll(controls: FlightControls): void {
    const { model, state } = this;
    model.observe(state);
    const takingOff = this.engine.powerFraction > 0.5 && controls.brake === 0;
    state[POWER] =
      (state[POWER] as number) + (SIMULATION_STEP_S * (model.powerTarget - (state[POWER] as number))) / POWER_LAG_S;
    const rotating = takingOff && controls.pitch.kind !== 'hold';
    if (rotating) {
      applyPitch(model, state, controls.pitch);
      state[LIFT] =
        (state[LIFT] as number) + (SIMULATION_STEP_S * (model.liftCommand - (state[LIFT] as number))) / LIFT_LAG_S;
    } else state[LIFT] = ROLLING_LIFT;
    rollStep(model, state, SIMULATION_STEP_S, this.ground, controls.brake, takingOff, this.gearTravel > 0.5);
    model.observe(state);
    if (rotating && model.loadFactor > 1) {
      this.onGround = false;
      this.flown = true;
    }
  }

  private travel(): void {
    const gear = this.model.gearDown ? SIMULATION_STEP_S / GEAR_TRAVEL_S : -SIMULATION_STEP_S / GEAR_TRAVEL_S;
    const flap = this.model.flapDown ? SIMULATION_STEP_S / FLAP_TRAVEL_S : -SIMULATION_STEP_S / FLAP_TRAVEL_S;
    this.gearTravel = clamp(this.gearTravel + gear, 0, 1);
    this.flapTravel = clamp(this.flapTravel + flap, 0, 1);
  }

  private pitchRad(): number {
    const { plane, sinPath } = this.model;
    const aspect = plane.wingSpanM ** 2 / plane.wingAreaM2;
    const slopePerRad = (2 * Math.PI * aspect) / (2 + Math.sqrt(aspect * aspect + 4));
    const attack = (this.state[LIFT] as number) / slopePerRad + NO_LIFT_RAD;
    return this.onGround ? Math.max(attack, 0) : Math.asin(sinPath) + attack;
  }

  private restTrack(): number {
    return Math.abs(Math.atan2(this.state[VY] as number, this.state[VX] as number)) > Math.PI / 2 ? Math.PI : 0;
  }
}

/** Fits the take-off of a setup, turbulence left out. */
function fittedResistance(setup: SimulationSetup): number {
  checkSetup(setup);
  const { turbulence: _rough, ...smooth } = setup;
  return fitTakeoffResistance(setup.aircraft.takeoffTo50FtFt * M_PER_FT, (resistanceMps2) => {
    const trial = new FlightSimulation(smooth, resistanceMps2);
    while ((trial.state[H] as number) < SCREEN_HEIGHT_M) {
      if (trial.timeS > TAKEOFF_LIMIT_S) return Number.POSITIVE_INFINITY;
      trial.step(0.1, null);
    }
    return trial.state[X] as number;
  });
}
