// What every criterion, finding and sentence reads: the columns, the moments and the touchdown of one attempt.
import type { Recording } from '@stillprop/contracts';
import { type Flight, flightOf } from './flight.js';
import { type Moments, momentsOf } from './moments.js';
import { type Pause, withoutPauses } from './pauses.js';
import { type StallSeen, stallSeen } from './stall.js';
import { type Touchdown, touchdownOf } from './touchdown.js';
import { stallMeasured, touchdownMeasured } from './unmeasured.js';
import { type FlownWind, windFlown } from './windFlown.js';

export interface Attempt {
  /** Without the pauses of the simulator: all times are seconds flown. */
  readonly recording: Recording;
  /** By the clock of the recording as it came. */
  readonly pauses: readonly Pause[];
  /** A time of this attempt by the clock of the recording as it came. */
  readonly toRecorded: (flownS: number) => number;
  readonly flight: Flight;
  readonly moments: Moments;
  /** null: it did not come down on the ground in the recording, or there was no failure. */
  readonly touchdown: Touchdown | null;
  readonly stall: StallSeen;
  readonly kind: 'return' | 'ahead';
  /** The wind that is reckoned with; null: no flight to speak of. Estimated when first asked for. */
  readonly wind: FlownWind | null;
}

export function attemptOf(recorded: Recording): Attempt {
  const { recording, pauses, toRecorded } = withoutPauses(recorded);
  const flight = flightOf(recording);
  const moments = momentsOf(flight);
  let wind: FlownWind | null | undefined;
  return {
    get wind() {
      if (wind === undefined) wind = windFlown(flight, moments);
      return wind;
    },
    recording,
    pauses,
    toRecorded,
    flight,
    moments,
    touchdown: touchdownMeasured(recording, touchdownOf(flight, moments)),
    stall: stallMeasured(recording, stallSeen(flight, moments)),
    // Without a loss of power nothing was flown to tell by: the limits shown are those of what was to be practised.
    kind: moments.turn?.kind ?? (recording.header.scenario.technique.turn === 'ahead' ? 'ahead' : 'return'),
  };
}
