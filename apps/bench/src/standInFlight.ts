// One aeroplane of the stand-in simulator: parked, taking off, failed, flown by a scripted pilot, and told as samples.
import {
  fromRunwayFrame,
  isPlaced,
  type PlacedRunway,
  type Sample,
  type ScenarioBundle,
  type StandInCommand,
} from '@stillprop/contracts';
import {
  type EngineState,
  FlightSimulation,
  type RandomSource,
  randomSource,
  type SimulationReading,
} from '@stillprop/physics';
import { type Habits, PILOTS } from './habits.js';
import { ScriptedPilot } from './scriptedPilot.js';

/** The pilot is asked, and the flight advanced, this often (s). */
export const TICK_S = 0.01;
/** Waits at the runway's end before the brakes are released (s). */
const HOLD_BEFORE_TAKEOFF_S = 3;
/** The horn sounds below this margin over the stall speed at the load factor flown. */
const WARNING_MARGIN = 1.04;
const RPM = { running: 2450, idle: 700, perKtCoarse: 9, perKtFine: 16 };

type Commands = Exclude<StandInCommand, { word: 'BEGIN' }>;

export class StandInFlight {
  /** Speed-up over real time asked for. */
  speed = 1;
  private clockS = 0;
  private simulation: FlightSimulation;
  private readonly reading = {} as SimulationReading;
  private bundle: ScenarioBundle & { readonly runway: PlacedRunway };
  private habits: Habits = PILOTS.prompt as Habits;
  private random: RandomSource = randomSource(1);
  private engine: EngineState = { powerFraction: 1, propeller: 'coarse' };
  private pilot: ScriptedPilot | null = null;
  /** null: parked until somebody begins. */
  private releaseAtS: number | null = null;

  /** @throws {RangeError} If the runway has no position. */
  constructor(bundle: ScenarioBundle) {
    this.bundle = placed(bundle);
    this.simulation = simulationOf(this.bundle);
    this.simulation.read(this.reading);
  }

  /** Puts the aeroplane on the runway of a scenario and has a pilot take off. */
  begin(bundle: ScenarioBundle, pilot: string, seed: number, speed: number): void {
    const habits = PILOTS[pilot];
    if (habits === undefined)
      throw new RangeError(`pilot must be one of ${Object.keys(PILOTS).join(', ')}, got "${pilot}"`);
    const onRunway = placed(bundle);
    const simulation = simulationOf(onRunway);
    this.bundle = onRunway;
    this.simulation = simulation;
    this.habits = habits;
    this.random = randomSource(seed);
    this.speed = speed;
    this.park();
    this.releaseAtS = this.clockS + HOLD_BEFORE_TAKEOFF_S;
  }

  /** @throws {RangeError} If the aeroplane has no such propeller state. */
  obey(command: Commands): void {
    switch (command.word) {
      case 'FAIL':
        this.setEngine({ powerFraction: 0, propeller: command.propeller });
        break;
      case 'POWER':
        this.setEngine({ powerFraction: command.fraction, propeller: command.propeller });
        break;
      case 'RESTORE':
        this.setEngine({ powerFraction: 1, propeller: this.engine.propeller });
        break;
      case 'RESET':
        this.simulation = simulationOf(this.bundle);
        this.park();
    }
  }

  /** Advances by one tick. */
  tick(): void {
    this.clockS += TICK_S;
    if (this.releaseAtS === null || this.clockS < this.releaseAtS) return;
    const { simulation } = this;
    if (this.pilot !== null && this.engine.powerFraction > 0 && this.pilot.closesThrottle()) {
      this.engine = { ...this.engine, powerFraction: 0 };
      simulation.setEngine(this.engine);
    }
    simulation.step(TICK_S, this.pilot?.controls() ?? null);
    simulation.read(this.reading);
    if (this.reading.stopped && simulation.flown) {
      this.releaseAtS = null;
      this.speed = 1;
    }
  }

  /** The present moment as a sample. */
  sample(): Sample {
    const at = this.reading;
    const { runway, aircraft } = this.bundle;
    const place = fromRunwayFrame(runway, { alongFt: at.xFt, acrossFt: at.yFt });
    const stallKcas =
      (at.flapFraction > 0.5 ? aircraft.stallLandingKcas : aircraft.stallCleanKcas) *
      Math.sqrt((aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg)) * Math.max(at.loadFactor, 0));
    return {
      timeS: this.clockS,
      latitudeDeg: place.latitudeDeg,
      longitudeDeg: place.longitudeDeg,
      altitudeFt: runway.elevationFt + at.heightFt,
      heightFt: at.heightFt,
      indicatedAirspeedKt: at.kcas,
      trueAirspeedKt: at.ktas,
      groundspeedKt: at.stopped ? 0 : at.groundspeedKt,
      trackDeg: at.trackDeg,
      headingDeg: at.headingDeg,
      bankDeg: at.bankDeg,
      pitchDeg: at.pitchDeg,
      verticalSpeedFpm: at.verticalSpeedFpm,
      loadFactor: at.loadFactor,
      engineRpm: this.rpm(),
      powerFraction: this.releaseAtS === null && !this.simulation.flown ? 0 : at.powerFraction,
      gearFraction: at.gearFraction,
      flapFraction: at.flapFraction,
      onGround: at.onGround,
      stallWarning: !at.onGround && (at.stalled || at.kcas < WARNING_MARGIN * stallKcas),
    };
  }

  private setEngine(engine: EngineState): void {
    const { simulation } = this;
    const failed = engine.powerFraction < 1;
    // The pilot first: where the physics refuses what it is to fly, the engine runs on and nothing has changed.
    const pilot =
      failed && this.pilot === null && !simulation.onGround && this.releaseAtS !== null
        ? new ScriptedPilot(simulation, this.habits, this.bundle, engine, this.random)
        : this.pilot;
    simulation.setEngine(engine);
    this.engine = engine;
    this.pilot = failed ? pilot : null;
  }

  private park(): void {
    this.engine = { powerFraction: 1, propeller: 'coarse' };
    this.pilot = null;
    this.releaseAtS = null;
    this.simulation.read(this.reading);
  }

  private rpm(): number {
    const { powerFraction, kcas } = this.reading;
    if (this.releaseAtS === null) return RPM.idle;
    if (powerFraction > 0.05) return RPM.idle + (RPM.running - RPM.idle) * powerFraction;
    if (this.engine.propeller === 'stopped') return 0;
    return kcas * (this.engine.propeller === 'coarse' ? RPM.perKtCoarse : RPM.perKtFine);
  }
}

function placed(bundle: ScenarioBundle): ScenarioBundle & { readonly runway: PlacedRunway } {
  const { runway } = bundle;
  if (!isPlaced(runway)) throw new RangeError(`runway ${runway.name} must have a start (latitude and longitude)`);
  return { ...bundle, runway };
}

function simulationOf({ aircraft, runway, weather, scenario }: ScenarioBundle): FlightSimulation {
  return new FlightSimulation({
    aircraft,
    runway,
    weather,
    climbKcas: scenario.technique.climbKcas,
    rollRateDegS: scenario.technique.rollRateDegS,
  });
}
