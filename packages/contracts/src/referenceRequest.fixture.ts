// A complete fly request for tests: the invented reference aeroplane R on an invented runway, no wind.
import type { FlyRequest } from './flyRequest.js';

export const referenceRequest: FlyRequest = {
  aircraft: {
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
  },
  runway: {
    name: '09',
    lengthFt: 4000,
    widthFt: 75,
    headingTrueDeg: 90,
    elevationFt: 0,
    surface: 'paved',
    airfield: { beyondEndFt: 600, besideFt: 500 },
  },
  weather: { temperatureC: 15, qnhHpa: 1013.25, winds: [] },
  technique: {
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
  },
  failure: { heightFt: 1000, powerFraction: 0, propeller: 'coarse' },
};
