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
export { type AheadReach, aheadReach } from './aheadReach.js';
export { type AircraftFigure, type AircraftReport, aircraftReport } from './aircraftReport.js';
export { calibratedFromTrue, type DayAir, dayAir, trueFromCalibrated } from './atmosphere.js';
export { type BestTurn, bestTurn, type TurnSide } from './bestTurn.js';
export {
  checkAircraft,
  checkFlightStart,
  checkFlyRequest,
  checkRunway,
  checkTechnique,
  checkWeather,
} from './checkRequest.js';
export type { SpreadOptions } from './checkSpread.js';
export { type ClimbChoice, type ClimbTrade, climbTrade } from './climbTrade.js';
export * from './closedForms.js';
export type { EngineState, FlightControls, PitchControl } from './controls.js';
export { DeparturePilot } from './departurePilot.js';
export { type FieldReached, fieldsReached, type LandableField } from './fieldsReached.js';
export { FlightModel } from './flight.js';
export { type FlyOptions, flyAttempt } from './flyAttempt.js';
export { type Footprint, footprint, type Reach } from './footprint.js';
export { groundRollM, landingSlopeFactor, referenceTouchdownMps, SURFACE_FACTOR } from './groundRoll.js';
export type { HandbookWarning } from './handbookWarnings.js';
export { type HeightLost, heightLostByTurn, TURNS_DEG } from './heightLostByTurn.js';
export { isLandingAhead } from './landingAhead.js';
export { type Optimised, type OptimiseOptions, optimise } from './optimise.js';
export type { TechniqueWord } from './optimisedWords.js';
export { levelAirspeedMps, loadFactorOfPath, pathAngleRad, trueAirspeedAt } from './pathThroughAir.js';
export { bankAvailableRad, flareLiftCommand, pushLiftCommand, steadyPathRad } from './pilot.js';
export type { Phase } from './pilotProgram.js';
export { type Plan, type PlanOptions, type PlanPart, plan, spreadHeightsFt } from './plan.js';
export { areaFt2, distanceToEdgeFt, isInside, type Point } from './polygon.js';
export { surgingPower } from './powerSchedule.js';
export { type RandomSource, randomSource } from './random.js';
export type * from './request.js';
export { ISLAND_FT } from './returnEdge.js';
export { HIGHEST_RETURN_FT, lowestReturnFt } from './returnHeight.js';
export {
  type EdgeFlight,
  isIsland,
  lowestStopFt,
  type ReturnWindow,
  type ReturnWindows,
  returnWindows,
  type WindowOptions,
  type WindowOutcome,
} from './returnWindows.js';
export { type Cost, type Sensitivity, sensitivity } from './sensitivity.js';
export { FlightSimulation, SIMULATION_STEP_S } from './simulation.js';
export type { SimulationReading, SimulationSetup } from './simulationSetup.js';
export {
  addCounts,
  countDraws,
  countSpread,
  type HeightForShare,
  heightForShare,
  noCounts,
  OUTCOMES,
  type PlannedReturn,
  type Spread,
  type SpreadAtHeight,
  type SpreadCounts,
  type SpreadWork,
  spread,
  spreadOf,
  spreadWork,
} from './spread.js';
export { DEFAULT_ERRORS, drawnRequest, drawSpread, type SpreadDraw, type SpreadErrors } from './spreadDraw.js';
export { type CountPiece, type CountTogetherOptions, countAtFirst, countTogether } from './spreadTogether.js';
export * from './standardAir.js';
export * as stateIndex from './state.js';
export type { Aim } from './steering.js';
export { type TakeoffFactor, takeoffTo50FtToday } from './takeoffDistance.js';
export { techniqueWarnings } from './techniqueWarnings.js';
export type { FlownTrack } from './track.js';
export { type Turbulence, turbulence, turbulenceScales } from './turbulence.js';
export { TurnBackPilot, type TurnBackSetup } from './turnBackPilot.js';
export { type Budget, type BudgetNumbers, climbToGlideRatio, turnbackBudget } from './turnbackBudget.js';
export * from './units.js';
export { type Share, wilson } from './wilson.js';
export { type WindProfile, windProfile, windShare } from './wind.js';
export { withAddedWind } from './windChange.js';
