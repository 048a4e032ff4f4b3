// An attempt that ended in the air: it has no total, whatever had been measured by then.
import type { CloseReason } from '@stillprop/contracts';
import type { Attempt } from './attempt.js';
import { valueAt } from './columns.js';
import { feet } from './words.js';

/** How the recording ends, before "at 640 ft"; other reasons say nothing of the moment. */
const ENDED: Partial<Readonly<Record<CloseReason | 'broke-off', string>>> = {
  instructor: 'Stopped by hand',
  'simulator-reset': 'The simulator was reset',
  'left-area': 'The aeroplane left the area',
  'link-lost': 'The data ended',
  interrupted: 'The data ended',
  'broke-off': 'The data ended',
};

/**
 * After a loss of power the recording ends before the ground (or the floor) is met. What could still have gone wrong is
 * not in it, so marks for the part flown would reward breaking off in time.
 *
 * @returns The moment it ends and why there is no total, in one sentence; null when it was flown to its end.
 */
export function notFlownOut({ recording, flight, moments }: Attempt): { atS: number; text: string } | null {
  const { lossS, contactS, endS } = moments;
  if (lossS === null || contactS !== null) return null;
  const ground = recording.header.scenario.practice.from === 'floor' ? 'floor' : 'ground';
  const ended = moments.powerBack ? 'Power came back' : ENDED[recording.end?.reason ?? 'broke-off'];
  const how =
    ended === undefined
      ? `This recording holds no contact with the ${ground}`
      : `${ended} at ${feet(valueAt(flight.timeS, flight.heightFt, endS))}`;
  const why = `so there is no total: only an attempt flown down to the ${ground} shows how it ends.`;
  return { atS: endS, text: `${how}, ${why}` };
}
