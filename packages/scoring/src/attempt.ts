// What every criterion, finding and sentence reads: the columns, the moments and the touchdown of one attempt.
import type { Recording } from '@stillprop/contracts';
import { type Flight, flightOf } from './flight.js';
import { type Moments, momentsOf } from './moments.js';
import { type StallSeen, stallSeen } from './stall.js';
import { type Touchdown, touchdownOf } from './touchdown.js';
import { stallMeasured, touchdownMeasured } from './unmeasured.js';

export interface Attempt {
  readonly recording: Recording;
  readonly flight: Flight;
  readonly moments: Moments;
  /** null: it did not come down on the ground in the recording, or there was no failure. */
  readonly touchdown: Touchdown | null;
  readonly stall: StallSeen;
  readonly kind: 'return' | 'ahead';
}

export function attemptOf(recording: Recording): Attempt {
  const flight = flightOf(recording);
  const moments = momentsOf(flight);
  return {
    recording,
    flight,
    moments,
    touchdown: touchdownMeasured(recording, touchdownOf(flight, moments)),
    stall: stallMeasured(recording, stallSeen(flight, moments)),
    // Without a loss of power nothing was flown to tell by: the limits shown are those of what was to be practised.
    kind: moments.turn?.kind ?? (recording.header.scenario.technique.turn === 'ahead' ? 'ahead' : 'return'),
  };
}
