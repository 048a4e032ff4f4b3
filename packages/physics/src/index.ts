// Everything other packages may use: the modelled attempt, the stepped simulation with its pilots, and the physics under both.
export {
  type Aeroplane,
  type DerivedFigures,
  deriveAeroplane,
  derivedFigures,
  fullThrustN,
  groundEffectFactor,
  type ThrustLaw,
} from './aeroplane.js';
export { calibratedFromTrue, type DayAir, dayAir, trueFromCalibrated } from './atmosphere.js';
export {
  checkAircraft,
  checkFlightStart,
  checkFlyRequest,
  checkRunway,
  checkTechnique,
  checkWeather,
} from './checkRequest.js';
export * from './closedForms.js';
export type { EngineState, FlightControls, PitchControl } from './controls.js';
export { DeparturePilot } from './departurePilot.js';
export { FlightModel } from './flight.js';
export { type FlyOptions, flyAttempt } from './flyAttempt.js';
export { groundRollM, referenceTouchdownMps, SURFACE_FACTOR } from './groundRoll.js';
export { bankAvailableRad, flareLiftCommand, pushLiftCommand, steadyPathRad } from './pilot.js';
export type { Phase } from './pilotProgram.js';
export { type RandomSource, randomSource } from './random.js';
export type * from './request.js';
export { HIGHEST_RETURN_FT, lowestReturnFt } from './returnHeight.js';
export { FlightSimulation, SIMULATION_STEP_S } from './simulation.js';
export type { SimulationReading, SimulationSetup } from './simulationSetup.js';
export * from './standardAir.js';
export * as stateIndex from './state.js';
export type { Aim } from './steering.js';
export type { FlownTrack } from './track.js';
export { type Turbulence, turbulence, turbulenceScales } from './turbulence.js';
export { TurnBackPilot, type TurnBackSetup } from './turnBackPilot.js';
export * from './units.js';
export { type WindProfile, windProfile } from './wind.js';
