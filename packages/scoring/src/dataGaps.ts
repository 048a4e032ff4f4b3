// Holes in the recording between the loss of power and the end, and a recording that broke off.
import type { Attempt } from './attempt.js';
import { samplesWithin } from './columns.js';
import { seconds } from './words.js';

/** A silence longer than this, and than five ordinary intervals, is a gap (s). */
const GAP_S = 1;
const ORDINARY_INTERVALS = 5;

/** Each as a sentence with the moment it begins. */
export function dataGaps({ recording, flight, moments }: Attempt): { atS: number; text: string }[] {
  const found: { atS: number; text: string }[] = [];
  const { timeS, count } = flight;
  if (count === 0) return found;
  const fromS = moments.lossS ?? (timeS[0] as number);
  const span = samplesWithin(timeS, fromS - GAP_S, moments.contactS ?? moments.endS);
  if (span !== null) {
    const gaps: { atS: number; lastsS: number }[] = [];
    const intervals: number[] = [];
    const last = Math.min(span.last + 1, count - 1); // the contact itself may lie in a gap
    for (let i = span.first + 1; i <= last; i++) intervals.push((timeS[i] as number) - (timeS[i - 1] as number));
    const ordinaryS = [...intervals].sort((a, b) => a - b)[intervals.length >> 1] ?? 0;
    intervals.forEach((lastsS, i) => {
      if (lastsS > Math.max(GAP_S, ORDINARY_INTERVALS * ordinaryS))
        gaps.push({ atS: timeS[span.first + i] as number, lastsS });
    });
    const longest = gaps.reduce<(typeof gaps)[number] | null>(
      (a, b) => (a === null || b.lastsS > a.lastsS ? b : a),
      null,
    );
    if (longest !== null)
      found.push({
        atS: longest.atS,
        text: `${gaps.length === 1 ? 'A gap' : `${gaps.length} gaps, the longest`} of ${seconds(longest.lastsS)} in the data after the loss of power. Figures across it are interpolated.`,
      });
  }
  if (recording.end === null && moments.stoppedS === null)
    found.push({ atS: moments.endS, text: 'The recording broke off before the attempt was closed.' });
  return found;
}
