// What a reader must know of the recording itself: pauses taken out, and which of several failures was scored.
import type { Attempt } from './attempt.js';
import { toldAttempts } from './failureEvent.js';
import { firstAirborne } from './groundContact.js';
import { fallsInColumn } from './powerLost.js';
import { seconds } from './words.js';

interface Note {
  readonly code: 'paused' | 'several-failures';
  readonly atS: number;
  readonly text: string;
}

/** Notes of an attempt with a loss of power, times in seconds flown. */
export function aboutRecording(attempt: Attempt): Note[] {
  const { lossS } = attempt.moments;
  return lossS === null ? [] : [...pauseNote(attempt, lossS), ...severalNote(attempt, lossS)];
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
