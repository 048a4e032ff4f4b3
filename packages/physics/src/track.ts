// The flown path as columns, at even time steps from the failure to the contact.

import { calibratedFromTrue } from './atmosphere.js';
import type { FlightModel } from './flight.js';
import type { Phase } from './pilotProgram.js';
import { BANK, H, VH, VX, VY, X, Y } from './state.js';
import { compassDeg, M_PER_FT, MPS_PER_FPM, MPS_PER_KT, RAD_PER_DEG } from './units.js';

/** Equally long columns, time ascending; the last row is the contact. */
export interface FlownTrack {
  readonly timeS: number[];
  readonly alongFt: number[];
  readonly acrossFt: number[];
  readonly heightFt: number[];
  readonly kcas: number[];
  readonly ktas: number[];
  readonly groundspeedKt: number[];
  readonly bankDeg: number[];
  readonly headingTrueDeg: number[];
  readonly loadFactor: number[];
  readonly sinkFpm: number[];
  /** Stall speed at the load factor then flown (kt CAS); 0 when the wing carries nothing. */
  readonly stallKcas: number[];
  readonly phase: Phase[];
}

export function emptyTrack(): FlownTrack {
  return {
    timeS: [],
    alongFt: [],
    acrossFt: [],
    heightFt: [],
    kcas: [],
    ktas: [],
    groundspeedKt: [],
    bankDeg: [],
    headingTrueDeg: [],
    loadFactor: [],
    sinkFpm: [],
    stallKcas: [],
    phase: [],
  };
}

/** Appends one row; the model must have observed the state. */
export function addTrackRow(
  track: FlownTrack,
  timeS: number,
  model: FlightModel,
  state: Float64Array,
  phase: Phase,
  runwayHeadingDeg: number,
): void {
  const loadFactor = model.loadFactor;
  track.timeS.push(timeS);
  track.alongFt.push((state[X] as number) / M_PER_FT);
  track.acrossFt.push((state[Y] as number) / M_PER_FT);
  track.heightFt.push((state[H] as number) / M_PER_FT);
  track.kcas.push(calibratedFromTrue(model.tasMps, model.densityKgM3) / MPS_PER_KT);
  track.ktas.push(model.tasMps / MPS_PER_KT);
  track.groundspeedKt.push(Math.hypot(state[VX] as number, state[VY] as number) / MPS_PER_KT);
  track.bankDeg.push((state[BANK] as number) / RAD_PER_DEG);
  track.headingTrueDeg.push(compassDeg(Math.atan2(model.airY, model.airX) + runwayHeadingDeg * RAD_PER_DEG));
  track.loadFactor.push(loadFactor);
  track.sinkFpm.push(-(state[VH] as number) / MPS_PER_FPM);
  track.stallKcas.push((model.stallMps * Math.sqrt(Math.max(loadFactor, 0))) / MPS_PER_KT);
  track.phase.push(phase);
}
