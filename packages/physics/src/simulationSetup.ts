// What a simulation is made of, and what can be read from it.
import { checkAircraft, checkRunway, checkWeather } from './checkRequest.js';
import type { AircraftNumbers, RunwayNumbers, WeatherNumbers } from './request.js';

/** What a simulated flight is made of. */
export interface SimulationSetup {
  readonly aircraft: AircraftNumbers;
  readonly runway: RunwayNumbers;
  readonly weather: WeatherNumbers;
  readonly climbKcas: number;
  /** Fastest roll the pilot uses (deg/s); 30 when absent. */
  readonly rollRateDegS?: number | undefined;
  /** Seeded turbulence; still air above the mean wind when absent. */
  readonly turbulence?: { readonly windAt20FtKt: number; readonly seed: number } | undefined;
}

/** What instruments would show, and where the aeroplane is in the runway frame. */
export interface SimulationReading {
  timeS: number;
  /** From brake release in the take-off direction, and right of the centreline (ft). */
  xFt: number;
  yFt: number;
  /** Above the runway (ft). */
  heightFt: number;
  kcas: number;
  ktas: number;
  groundspeedKt: number;
  /** True directions (deg). */
  trackDeg: number;
  headingDeg: number;
  bankDeg: number;
  pitchDeg: number;
  verticalSpeedFpm: number;
  loadFactor: number;
  powerFraction: number;
  onGround: boolean;
  /** More lift is asked of the wing than it can give. */
  stalled: boolean;
  /** 0 up to 1 down. */
  gearFraction: number;
  flapFraction: number;
  stopped: boolean;
}

/** @throws {RangeError} If a number of the setup is impossible. */
export function checkSetup({ aircraft, runway, weather, climbKcas, rollRateDegS }: SimulationSetup): void {
  checkAircraft(aircraft);
  checkRunway(runway);
  checkWeather(weather);
  const stall = aircraft.stallCleanKcas * Math.sqrt(aircraft.massKg / (aircraft.referenceMassKg ?? aircraft.massKg));
  if (!(climbKcas >= stall && climbKcas <= 200))
    throw new RangeError(`climbKcas must be ${Math.ceil(stall)} to 200 kt, got ${climbKcas}`);
  if (rollRateDegS !== undefined && !(rollRateDegS >= 2 && rollRateDegS <= 180))
    throw new RangeError(`rollRateDegS must be 2 to 180 °/s, got ${rollRateDegS}`);
}
