// An invented single-engine retractable that the facts of the trade are held against.
import type { AircraftNumbers, FlyRequest } from '@stillprop/physics';

/** Invented; of the size, weight and speeds of a four-seat touring aeroplane. */
export const RETRACTABLE: AircraftNumbers = {
  name: 'invented retractable',
  massKg: 1520,
  wingAreaM2: 16.2,
  wingSpanM: 10.3,
  stallCleanKcas: 66,
  stallLandingKcas: 58,
  bestGlideKcas: 105,
  bestGlideRatio: 10.3,
  bestGlidePropeller: 'coarse',
  propellerSinkFactor: { coarse: 1, stopped: 0.95, windmillingFine: 1.5 },
  climb: [
    { kcas: 92, rateFpm: 1330 },
    { kcas: 107, rateFpm: 1230 },
  ],
  gearDragCoefficient: 0.014,
  flapDragCoefficient: 0.045,
  takeoffTo50FtFt: 1600,
  landingRollFt: 900,
};

export function retractableRequest(heightFt: number, technique: Partial<FlyRequest['technique']> = {}): FlyRequest {
  return {
    aircraft: RETRACTABLE,
    runway: {
      name: '18',
      lengthFt: 5000,
      widthFt: 100,
      headingTrueDeg: 180,
      elevationFt: 0,
      surface: 'paved',
      airfield: { beyondEndFt: 500, besideFt: 500 },
    },
    weather: { temperatureC: 15, qnhHpa: 1013.25, winds: [] },
    technique: {
      climbKcas: 95,
      delayS: 3,
      targetKcas: 85,
      bankDeg: 45,
      turn: 'left',
      stallMargin: 1.05,
      rollRateDegS: 30,
      minimumLoadFactor: 0.5,
      gearDownHeightFt: 200,
      flapDownHeightFt: null,
      ...technique,
    },
    failure: { heightFt, powerFraction: 0, propeller: 'coarse' },
  };
}
