// The pilot until the engine fails: take-off run, rotation, acceleration, climb at a speed along the centreline.
import type { Aeroplane } from './aeroplane.js';
import type { FlightControls } from './controls.js';
import type { FlightModel } from './flight.js';
import { H } from './state.js';
import { captureOf, steerToCentreline, USUAL_ALIGN_TIME_S, usualAlignBankRad } from './steering.js';
import { clamp, M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from './units.js';

/**
 * Rotation at this many stall speeds at least, and at this share of the climb speed: the modelled climb is at its
 * speed from 50 ft on, so this one has to be nearly there. Common practice, no source.
 */
const ROTATION_STALLS = 1.1;
const ROTATION_SHARE = 0.92;
/** Shallowest climb while the aeroplane is still below its climb speed (deg). */
const LEAST_CLIMB_DEG = 1;
const GEAR_UP_M = 10 * M_PER_FT;
const BANK_LIMIT_RAD = 20 * RAD_PER_DEG;
const CLIMB_STALL_MARGIN = 1.1;

/** What this pilot looks at. */
export interface DepartureView {
  readonly model: FlightModel;
  readonly state: Float64Array;
  readonly onGround: boolean;
}

/** Flies the departure; `controls` may be asked as often as one likes. */
export class DeparturePilot {
  private readonly capture = captureOf(usualAlignBankRad(BANK_LIMIT_RAD), USUAL_ALIGN_TIME_S);
  private readonly climb: FlightControls['pitch'];
  private readonly rotationMps: number;

  constructor(climbKcas: number, plane: Pick<Aeroplane, 'stallCleanMps'>) {
    this.rotationMps = Math.max(ROTATION_STALLS * plane.stallCleanMps, ROTATION_SHARE * climbKcas * MPS_PER_KT);
    this.climb = {
      kind: 'speed',
      kcas: climbKcas,
      stallMargin: CLIMB_STALL_MARGIN,
      minimumLoadFactor: 0.5,
      leastPathDeg: LEAST_CLIMB_DEG,
    };
  }

  controls({ model, state, onGround }: DepartureView): FlightControls {
    const rolling = onGround && model.equivalentMps < this.rotationMps;
    return {
      bankRad: onGround ? 0 : this.bankRad(state),
      pitch: rolling ? { kind: 'hold' } : this.climb,
      gearDown: (state[H] as number) < GEAR_UP_M,
      flapDown: false,
      brake: 0,
      slipDrag: 0,
    };
  }

  private bankRad(state: Float64Array): number {
    const asked = { bankCommandRad: 0 };
    steerToCentreline(asked, state, this.capture);
    return clamp(asked.bankCommandRad, -BANK_LIMIT_RAD, BANK_LIMIT_RAD);
  }
}
