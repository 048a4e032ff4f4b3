// Recordings flown by the physics package's pilots, for tests of the whole score.
import { fromRunwayFrame, isPlaced, type Recording, type Sample, type ScenarioBundle } from '@stillprop/contracts';
import { type FlightControls, FlightSimulation, type TechniqueNumbers, TurnBackPilot } from '@stillprop/physics';
import { headerOf } from './shelf.fixture.js';

export interface FlownPilot {
  readonly technique?: Partial<TechniqueNumbers>;
  /** Changes what the pilot does; the time counts from the failure. */
  readonly change?: (controls: FlightControls, afterS: number, simulation: FlightSimulation) => FlightControls;
  /** Never touches anything. */
  readonly frozen?: boolean;
  /** Seed of turbulence in a wind of 12 kt at 20 ft; smooth air when absent. */
  readonly gustSeed?: number;
}

/** Flies a bundle's scenario to a stop, with the engine failing at a height, sampled at `rateHz`. */
export function flownRecording(bundle: ScenarioBundle, failAtFt: number, pilot: FlownPilot, rateHz = 20): Recording {
  const { aircraft, runway, weather, scenario } = bundle;
  if (!isPlaced(runway)) throw new Error('needs a runway with a position');
  const { climbKcas } = scenario.technique;
  const rough = pilot.gustSeed === undefined ? undefined : { windAt20FtKt: 12, seed: pilot.gustSeed };
  const simulation = new FlightSimulation({ aircraft, runway, weather, climbKcas, turbulence: rough });
  const { propeller } = scenario.failure;
  const samples: Sample[] = [];
  let flying: TurnBackPilot | null = null;
  let failedAtS: number | null = null;
  let nextS = 0;
  while (simulation.timeS < 400) {
    const reading = simulation.read();
    if (simulation.timeS >= nextS - 1e-9) {
      nextS += 1 / rateHz;
      const place = fromRunwayFrame(runway, { alongFt: reading.xFt, acrossFt: reading.yFt });
      samples.push({
        timeS: reading.timeS,
        ...place,
        altitudeFt: reading.heightFt + runway.elevationFt,
        heightFt: reading.heightFt,
        indicatedAirspeedKt: reading.kcas,
        trueAirspeedKt: reading.ktas,
        groundspeedKt: reading.groundspeedKt,
        trackDeg: reading.trackDeg,
        headingDeg: reading.headingDeg,
        bankDeg: reading.bankDeg,
        pitchDeg: reading.pitchDeg,
        verticalSpeedFpm: reading.verticalSpeedFpm,
        loadFactor: reading.loadFactor,
        powerFraction: reading.powerFraction,
        gearFraction: reading.gearFraction,
        flapFraction: reading.flapFraction,
        onGround: reading.onGround,
        stallWarning: reading.stalled,
      });
    }
    if (failedAtS !== null && reading.stopped) break;
    if (failedAtS === null && reading.heightFt >= failAtFt) {
      failedAtS = simulation.timeS;
      simulation.setEngine({ powerFraction: 0, propeller });
      const technique = { ...scenario.technique, ...pilot.technique };
      flying = new TurnBackPilot(simulation, {
        aircraft,
        runway,
        weather,
        technique: pilot.frozen === true ? { ...technique, delayS: 30, turn: 'ahead' } : technique,
        failure: { powerFraction: 0, propeller },
      });
    }
    let controls = flying?.controls() ?? null;
    if (controls !== null && failedAtS !== null) {
      if (pilot.frozen === true) controls = { ...controls, bankRad: 0, pitch: { kind: 'hold' } };
      else if (pilot.change !== undefined) controls = pilot.change(controls, simulation.timeS - failedAtS, simulation);
    }
    simulation.step(0.01, controls);
  }
  const lastS = samples.at(-1)?.timeS ?? 0;
  return {
    header: headerOf(bundle, { heightFt: failAtFt, propeller }),
    samples,
    events: [{ kind: 'event', timeS: failedAtS, code: 'fail-commanded', text: 'The engine was told to fail.' }],
    end: { kind: 'end', timeS: lastS, reason: 'stopped', text: 'Stopped.', samples: samples.length },
  };
}
