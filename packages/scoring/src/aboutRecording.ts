// What a reader must know of the recording itself: pauses taken out, which failure was scored, and in which wind.
import type { Attempt } from './attempt.js';
import { toldAttempts } from './failureEvent.js';
import { firstAirborne } from './groundContact.js';
import { fallsInColumn } from './powerLost.js';
import type { WindAt } from './windFlown.js';
import { degrees, feet, knots, oneDecimal, seconds } from './words.js';

interface Note {
  readonly code: 'paused' | 'several-failures' | 'wind-differs';
  readonly atS: number;
  readonly text: string;
}

/** Notes of an attempt with a loss of power, times in seconds flown. */
export function aboutRecording(attempt: Attempt): Note[] {
  const { lossS } = attempt.moments;
  return lossS === null
    ? []
    : [...pauseNote(attempt, lossS), ...severalNote(attempt, lossS), ...windNote(attempt, lossS)];
}

/** Pauses between the loss of power and the contact. */
function pauseNote({ pauses, toRecorded, moments }: Attempt, lossS: number): Note[] {
  const endS = toRecorded(moments.contactS ?? moments.endS);
  const inside = pauses.filter(({ atS, lastsS }) => atS + lastsS > toRecorded(lossS) && atS < endS);
  const first = inside[0];
  if (first === undefined) return [];
  const totalS = inside.reduce((sum, { lastsS }) => sum + lastsS, 0);
  const standsS = pauses.filter(({ atS }) => atS < first.atS).reduce((sum, { lastsS }) => sum + lastsS, 0);
  const times = inside.length === 1 ? 'once' : `${inside.length} times`;
  return [
    {
      code: 'paused',
      atS: first.atS - standsS,
      text: `The simulator stood still ${times} after the loss of power, for ${seconds(totalS)} in all. That time is counted nowhere.`,
    },
  ];
}

function windNote({ wind }: Attempt, lossS: number): Note[] {
  if (wind === null || wind.source === 'scenario' || wind.estimate === null) return [];
  const words = ({ fromTrueDeg, speedKt }: WindAt) =>
    speedKt < 0.5 ? 'calm' : `${knots(speedKt)} from ${degrees(Math.round(fromTrueDeg) % 360)} true`;
  const errorKt = `${oneDecimal(wind.estimate.standardErrorKt)} kt`;
  return [
    {
      code: 'wind-differs',
      atS: lossS,
      text: `The recording shows a wind of ${words(wind.estimate)} at ${feet(wind.heightFt)}, give or take ${errorKt}, where the scenario has ${words(wind.scenario)}: the wind shown is reckoned with.`,
    },
  ];
}

function severalNote({ recording, flight, moments }: Attempt, lossS: number): Note[] {
  const told = toldAttempts(recording).length;
  const count = told > 0 ? told : fallsInColumn(flight, firstAirborne(flight) ?? lossS).length;
  if (count < 2) return [];
  const down = moments.contactS === null ? '' : ' that was flown to the ground';
  return [
    {
      code: 'several-failures',
      atS: lossS,
      text: `This recording holds ${count} losses of power. Scored is the last one${down}; the others count nowhere.`,
    },
  ];
}
