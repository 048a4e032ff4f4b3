// What a pilot, scripted or not, gives the simulated aeroplane, and how the stick part becomes a lift command.
import { type FlightModel, LIFT_DEMAND_LIMIT } from './flight.js';
import { flareLiftCommand, liftFor, pushLiftCommand } from './pilot.js';
import type { PropellerState } from './request.js';
import { LIFT } from './state.js';
import { clamp, MPS_PER_KT, RAD_PER_DEG } from './units.js';

/**
 * The stick, fore and aft: a speed to go for, a load factor to pull, whatever comes of it (a stall too), a flare, or
 * nothing moved.
 */
export type PitchControl =
  | {
      readonly kind: 'speed';
      readonly kcas: number;
      readonly stallMargin: number;
      readonly minimumLoadFactor: number;
      /** Steepest descent asked for (deg, climb positive); -35 when absent. */
      readonly leastPathDeg?: number | undefined;
    }
  | { readonly kind: 'loadFactor'; readonly loadFactor: number }
  | { readonly kind: 'flare'; readonly slopePerS: number }
  | { readonly kind: 'hold' };

/** Everything a pilot can move. */
export interface FlightControls {
  /** Bank asked for, right positive (rad). */
  readonly bankRad: number;
  readonly pitch: PitchControl;
  readonly gearDown: boolean;
  readonly flapDown: boolean;
  /** 0 to 1, on the ground. */
  readonly brake: number;
  /** Drag coefficient of a sideslip; 0: none. */
  readonly slipDrag: number;
}

/** What the engine is able to give; set by whoever fails it. */
export interface EngineState {
  /** Most power it gives, 0 to 1. */
  readonly powerFraction: number;
  /** State of the propeller when it gives less than full power. */
  readonly propeller: PropellerState;
}

/** Sets the lift command of a model from the stick; the model must have observed the state. */
export function applyPitch(model: FlightModel, state: Float64Array, pitch: PitchControl): void {
  model.liftHeld = pitch.kind === 'hold';
  switch (pitch.kind) {
    case 'hold':
      model.liftCommand = state[LIFT] as number;
      return;
    case 'flare':
      model.liftCommand = flareLiftCommand(model, state, pitch.slopePerS);
      return;
    case 'loadFactor': {
      const most = LIFT_DEMAND_LIMIT * model.liftMax;
      model.liftCommand = clamp(liftFor(model, pitch.loadFactor, 0.5), -most / 2, most);
      return;
    }
    case 'speed':
      model.liftCommand = pushLiftCommand(
        model,
        state,
        pitch.kcas * MPS_PER_KT,
        pitch.stallMargin,
        pitch.minimumLoadFactor,
        pitch.leastPathDeg === undefined ? undefined : pitch.leastPathDeg * RAD_PER_DEG,
      );
  }
}
