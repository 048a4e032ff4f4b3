// A checked request turned into a model ready to fly: aeroplane, air, wind, technique, and the state at the failure.
import { type Aeroplane, deriveAeroplane } from './aeroplane.js';
import { dayAir } from './atmosphere.js';
import { departureState } from './departure.js';
import { FlightModel } from './flight.js';
import { referenceTouchdownMps } from './groundRoll.js';
import { type Technique, techniqueSi } from './pilotProgram.js';
import type { FlightStart, FlyRequest } from './request.js';
import { BANK, H, LIFT, POWER, STATE_SIZE, VH, VX, VY, X, Y } from './state.js';
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
  readonly referenceTouchdownMps: number;
}

/**
 * Builds the scene of a request that has passed `checkFlyRequest`.
 *
 * @param start The failure moment as recorded; absent: the modelled climb to `failure.heightFt`.
 */
export function buildScene(request: FlyRequest, start: FlightStart | undefined): Scene {
  const plane = deriveAeroplane(request.aircraft);
  const air = dayAir(request.weather, request.runway.elevationFt);
  const wind = windProfile(request.weather.winds, request.runway.headingTrueDeg);
  const model = new FlightModel(plane, air, wind);
  return {
    request,
    plane,
    technique: techniqueSi(request.technique),
    model,
    start:
      start === undefined
        ? departureState(
            plane,
            air,
            wind,
            request.aircraft.takeoffTo50FtFt,
            request.technique.climbKcas,
            request.failure.heightFt * M_PER_FT,
          )
        : recordedState(model, start, request.runway.headingTrueDeg),
    gearDownAtStart: start?.gearDown ?? false,
    flapDownAtStart: start?.flapDown ?? false,
    recorded: start,
    referenceTouchdownMps: referenceTouchdownMps(plane),
  };
}

/**
 * Moves the failure of a scene to another height (ft above the runway): farther up or down the modelled climb, or,
 * from a recorded moment, straight up or down with everything else as it was.
 */
export function moveFailure(scene: Scene, heightFt: number): void {
  const { plane, model, request, recorded, start } = scene;
  const { aircraft, technique, runway } = request;
  start.set(
    recorded === undefined
      ? departureState(plane, model.air, model.wind, aircraft.takeoffTo50FtFt, technique.climbKcas, heightFt * M_PER_FT)
      : recordedState(model, { ...recorded, heightFt }, runway.headingTrueDeg),
  );
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
