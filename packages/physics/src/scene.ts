// A checked request turned into a model ready to fly: aeroplane, air, wind, technique, and the state at the failure.
import { type Aeroplane, deriveAeroplane } from './aeroplane.js';
import { dayAir } from './atmosphere.js';
import { departureState } from './departure.js';
import { FlightModel } from './flight.js';
import { referenceTouchdownMps } from './groundRoll.js';
import { type Technique, techniqueSi } from './pilotProgram.js';
import type { FlightStart, FlyRequest } from './request.js';
import { BANK, H, LIFT, POWER, STATE_SIZE, VH, VX, VY, X, Y } from './state.js';
import { takeoffTo50FtToday } from './takeoffDistance.js';
import { homeTarget, intoFrame, type Target, targetsOf } from './targets.js';
import { M_PER_FT, MPS_PER_FPM, MPS_PER_KT, RAD_PER_DEG } from './units.js';
import { windProfile } from './wind.js';

/** Everything one attempt needs; `start` is the state at the failure, `model` is reset before each flight. */
export interface Scene {
  readonly request: FlyRequest;
  readonly plane: Aeroplane;
  readonly technique: Technique;
  readonly model: FlightModel;
  readonly start: Float64Array;
  readonly gearDownAtStart: boolean;
  readonly flapDownAtStart: boolean;
  /** The recorded moment the scene starts from; absent: the modelled climb. */
  readonly recorded: FlightStart | undefined;
  /** Runway returned to. The request's runway is its, and `start` lies in its frame. */
  readonly target: Target;
  /** The failure in the frame of the departure runway, and what finds it again for another height. */
  readonly departed: Departed;
  readonly referenceTouchdownMps: number;
}

/** The failure as seen from the departure runway. */
export interface Departed {
  readonly request: FlyRequest;
  /** A model with the winds of that frame. */
  readonly model: FlightModel;
  readonly state: Float64Array;
}

/**
 * Builds the scene of a request that has passed `checkFlyRequest`, for a return to the departure runway.
 *
 * @param start The failure moment as recorded; absent: the modelled climb to `failure.heightFt`.
 * @param target Another runway to return to.
 */
export function buildScene(
  request: FlyRequest,
  start: FlightStart | undefined,
  target: Target = homeTarget(request.runway),
): Scene {
  const plane = deriveAeroplane(request.aircraft);
  const air = dayAir(request.weather, request.runway.elevationFt);
  const modelFor = (headingTrueDeg: number) =>
    new FlightModel(plane, air, windProfile(request.weather.winds, headingTrueDeg));
  const home = modelFor(request.runway.headingTrueDeg);
  const departed = { request, model: home, state: new Float64Array(STATE_SIZE) };
  const scene: Scene = {
    request: { ...request, runway: target.runway },
    plane,
    technique: techniqueSi(request.technique),
    model: target.frame === null ? home : modelFor(target.runway.headingTrueDeg),
    start: new Float64Array(STATE_SIZE),
    gearDownAtStart: start?.gearDown ?? false,
    flapDownAtStart: start?.flapDown ?? false,
    recorded: start,
    target,
    departed,
    referenceTouchdownMps: referenceTouchdownMps(plane),
  };
  moveFailure(scene, start?.heightFt ?? request.failure.heightFt);
  return scene;
}

/** A scene for each runway a return may go to, the departure runway first; that one alone when landing ahead. */
export function buildScenes(request: FlyRequest, start: FlightStart | undefined): Scene[] {
  const targets = request.technique.turn === 'ahead' ? [homeTarget(request.runway)] : targetsOf(request.runway);
  return targets.map((target) => buildScene(request, start, target));
}

/**
 * Moves the failure of a scene to another height (ft above the runway): farther up or down the modelled climb, or,
 * from a recorded moment, straight up or down with everything else as it was.
 */
export function moveFailure(scene: Scene, heightFt: number): void {
  const { plane, recorded, start, target, departed } = scene;
  const { request, model, state } = departed;
  const { aircraft, technique, runway, weather } = request;
  state.set(
    recorded === undefined
      ? departureState(
          plane,
          model.air,
          model.wind,
          takeoffTo50FtToday(aircraft, runway, weather).distanceFt,
          technique.climbKcas,
          heightFt * M_PER_FT,
        )
      : recordedState(model, { ...recorded, heightFt }, runway.headingTrueDeg),
  );
  start.set(state);
  if (target.frame !== null) intoFrame(target.frame, start);
}

/** Puts the model back to the failure moment: configuration, dead or dying engine, no gust. */
export function resetModel(scene: Scene): void {
  const { model, plane, request } = scene;
  model.gearDown = scene.gearDownAtStart;
  model.flapDown = scene.flapDownAtStart;
  model.slipDrag = 0;
  model.gustX = 0;
  model.gustY = 0;
  model.gustH = 0;
  model.powerTarget = request.failure.powerFraction;
  model.propellerDrag = plane.propellerDrag[request.failure.propeller] ?? 0;
}

/** State vector of a recorded moment. */
function recordedState(model: FlightModel, start: FlightStart, runwayHeadingDeg: number): Float64Array {
  const state = new Float64Array(STATE_SIZE);
  const heightM = start.heightFt * M_PER_FT;
  const tasMps = start.ktas * MPS_PER_KT;
  const climbMps = start.verticalSpeedFpm * MPS_PER_FPM;
  const horizontalMps = Math.sqrt(Math.max(tasMps * tasMps - climbMps * climbMps, 0));
  const heading = (start.headingTrueDeg - runwayHeadingDeg) * RAD_PER_DEG;
  const windNow = new Float64Array(2);
  model.wind.sample(heightM, windNow);
  state[X] = start.alongFt * M_PER_FT;
  state[Y] = start.acrossFt * M_PER_FT;
  state[H] = heightM;
  state[VX] = horizontalMps * Math.cos(heading) + (windNow[0] as number);
  state[VY] = horizontalMps * Math.sin(heading) + (windNow[1] as number);
  state[VH] = climbMps;
  state[BANK] = start.bankDeg * RAD_PER_DEG;
  state[POWER] = start.powerFraction ?? 1;
  model.flapDown = start.flapDown ?? false;
  model.observe(state);
  const loadFactor = start.loadFactor ?? model.cosPath / Math.cos(state[BANK]);
  state[LIFT] = (loadFactor * model.plane.weightN) / model.pressureAreaN;
  return state;
}
