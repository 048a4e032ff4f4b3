// The reference aeroplane R and its attempt (invented): what most tests of this package fly.
import type {
  AircraftNumbers,
  FailureNumbers,
  FlyRequest,
  RunwayNumbers,
  TechniqueNumbers,
  WeatherNumbers,
} from './request.js';

export const AIRCRAFT_R: AircraftNumbers = {
  name: 'R',
  massKg: 1500,
  wingAreaM2: 16.8,
  wingSpanM: 10.2,
  stallCleanKcas: 64,
  stallLandingKcas: 56,
  bestGlideKcas: 105,
  bestGlideRatio: 10.5,
  bestGlidePropeller: 'coarse',
  propellerSinkFactor: { coarse: 1, stopped: 1.05, windmillingFine: 1.4 },
  climb: [
    { kcas: 92, rateFpm: 1300 },
    { kcas: 108, rateFpm: 1180 },
  ],
  gearDragCoefficient: 0.015,
  flapDragCoefficient: 0.04,
  takeoffTo50FtFt: 1500,
  landingRollFt: 900,
};

const RUNWAY: RunwayNumbers = {
  name: '09',
  lengthFt: 4000,
  widthFt: 75,
  headingTrueDeg: 90,
  elevationFt: 0,
  surface: 'paved',
  airfield: { beyondEndFt: 600, besideFt: 500 },
};

const WEATHER: WeatherNumbers = { temperatureC: 15, qnhHpa: 1013.25, winds: [] };

const TECHNIQUE: TechniqueNumbers = {
  climbKcas: 92,
  delayS: 3,
  targetKcas: 85,
  bankDeg: 45,
  turn: 'best',
  stallMargin: 1.05,
  rollRateDegS: 30,
  minimumLoadFactor: 0.5,
  gearDownHeightFt: 200,
  flapDownHeightFt: null,
};

const FAILURE: FailureNumbers = { heightFt: 1000, powerFraction: 0, propeller: 'coarse' };

/** The attempt of R, with what is changed in each part. */
export function requestR(
  changes: {
    readonly aircraft?: Partial<AircraftNumbers>;
    readonly runway?: Partial<RunwayNumbers>;
    readonly weather?: Partial<WeatherNumbers>;
    readonly technique?: Partial<TechniqueNumbers>;
    readonly failure?: Partial<FailureNumbers>;
  } = {},
): FlyRequest {
  return {
    aircraft: { ...AIRCRAFT_R, ...changes.aircraft },
    runway: { ...RUNWAY, ...changes.runway },
    weather: { ...WEATHER, ...changes.weather },
    technique: { ...TECHNIQUE, ...changes.technique },
    failure: { ...FAILURE, ...changes.failure },
  };
}

/** One surface wind at 10 m. */
export function surfaceWind(fromTrueDeg: number, speedKt: number): Partial<WeatherNumbers> {
  return { winds: [{ heightFt: 33, fromTrueDeg, speedKt }] };
}
