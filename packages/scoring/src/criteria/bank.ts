// Bank: how well the technique's bank was held in the established turn; ahead: that bank stayed within limits.
import type { Rubric } from '@stillprop/contracts';
import type { Attempt } from '../attempt.js';
import { samplesWithin, timeMean, valueAt } from '../columns.js';
import type { Flight } from '../flight.js';
import { degrees, rounded } from '../words.js';
import { type Marked, marks, notMeasured } from './marks.js';

/** Shorter than this a turn is not established (s). */
const LEAST_TURN_S = 1;
/** Where a rubric has its limits meet, marks run out within this (degrees). */
const LEAST_RANGE_DEG = 0.001;

/** Limits of a landing ahead when the rubric states none: turns within 30° of bank; common practice, no source. */
export const AHEAD_DEFAULT: NonNullable<Rubric['ahead']> = {
  fullWithinBankDeg: 30,
  zeroAtBankDeg: 60,
  fullContactBankDeg: 5,
  zeroContactBankDeg: 20,
  fullStallSpeedRatio: 1.2,
  zeroStallSpeedRatio: 1.6,
  source: 'Common practice, no source.',
};

/** Marks for bank, by the kind of attempt flown. */
export function bankCriterion(attempt: Attempt): Marked {
  return attempt.kind === 'ahead' ? bankAhead(attempt) : bankInTurn(attempt);
}

/**
 * The established first turn (see `firstTurn`), up to the contact if the wings are never level before. Every moment
 * loses a share of the marks by its deviation from the technique's bank, none up to `fullWithinDeg`. Under the bank
 * asked the share is 1 at most, and its mean over time is taken off. Over it the share goes on growing, and its root
 * mean square over time is taken off: the load on the wing grows ever faster with bank, so a few seconds near the
 * vertical are not to be lost in a long good turn. A constant deviation costs the same by either. Measured is the
 * time-weighted mean bank.
 */
function bankInTurn({ recording, flight, moments }: Attempt): Marked {
  const { fullWithinDeg, zeroUnderByDeg, zeroOverByDeg } = recording.header.rubric.bank;
  const targetDeg = recording.header.scenario.technique.bankDeg;
  const band = { from: targetDeg - fullWithinDeg, to: targetDeg + fullWithinDeg };
  const absent = (text: string) => notMeasured(targetDeg, '°', band, text);
  const { lossS, firstActionS, bankEstablishedS: fromS, bankEndsS: toS } = moments;
  if (lossS === null) return absent('Not measured: no loss of power in this recording.');
  if (firstActionS === null) return absent('Not measured: nothing decisive was done.');
  if (fromS === null || toS === null || toS - fromS < LEAST_TURN_S)
    return absent('Not measured: no turn was established.');
  const { timeS, bankSmoothDeg } = flight;
  const bankAt = (atS: number) => Math.abs(valueAt(timeS, bankSmoothDeg, atS));
  const underAt = (atS: number) => 1 - marks(targetDeg - bankAt(atS), fullWithinDeg, zeroUnderByDeg) / 100;
  const overRangeDeg = Math.max(zeroOverByDeg - fullWithinDeg, LEAST_RANGE_DEG);
  const overAt = (atS: number) => Math.max(bankAt(atS) - targetDeg - fullWithinDeg, 0) / overRangeDeg;
  const underShare = timeMean(timeS, fromS, toS, underAt) as number;
  const overShare = Math.sqrt(timeMean(timeS, fromS, toS, (atS) => overAt(atS) ** 2) as number);
  const meanDeg = timeMean(timeS, fromS, toS, bankAt) as number;
  const deviationDeg = timeMean(timeS, fromS, toS, (atS) => Math.abs(bankAt(atS) - targetDeg)) as number;
  const { largestDeg, largestAtS } = largestBank(flight, fromS, toS);
  const off = meanDeg - targetDeg;
  const comparison =
    Math.abs(off) <= fullWithinDeg
      ? `within ${degrees(fullWithinDeg)} of the ${degrees(targetDeg)} asked.`
      : `${degrees(Math.abs(off))} ${off > 0 ? 'more' : 'less'} than the ${degrees(targetDeg)} asked.`;
  const why = Math.abs(off) <= fullWithinDeg ? ': too much bank weighs more than the time it lasts' : '';
  const most = largestDeg > targetDeg + fullWithinDeg ? ` The most was ${degrees(largestDeg)}${why}.` : '';
  return {
    score: 100 * Math.max(1 - underShare - overShare, 0),
    measured: rounded(meanDeg, 1),
    target: targetDeg,
    unit: '°',
    band,
    atS: largestDeg > targetDeg + fullWithinDeg ? largestAtS : fromS,
    text: `${degrees(meanDeg)} of bank on average in the turn, ${comparison}${most}`,
    details: {
      deviationDeg: rounded(deviationDeg, 1),
      largestDeg: rounded(largestDeg, 1),
      underShare: rounded(underShare),
      overShare: rounded(overShare),
      turnFromS: rounded(fromS),
      turnToS: rounded(toS),
    },
  };
}

/** Landing ahead: bank within limits from the first action to the ground; marks averaged over time. */
function bankAhead({ recording, flight, moments }: Attempt): Marked {
  const { fullWithinBankDeg, zeroAtBankDeg } = recording.header.rubric.ahead ?? AHEAD_DEFAULT;
  const band = { from: 0, to: fullWithinBankDeg };
  const absent = (text: string) => notMeasured(fullWithinBankDeg, '°', band, text);
  const { lossS, firstActionS } = moments;
  if (lossS === null) return absent('Not measured: no loss of power in this recording.');
  if (firstActionS === null) return absent('Not measured: nothing decisive was done.');
  const fromS = Math.max(firstActionS, lossS);
  const toS = moments.contactS ?? moments.endS;
  const { timeS, bankSmoothDeg } = flight;
  const score = timeMean(timeS, fromS, toS, (atS) =>
    marks(Math.abs(valueAt(timeS, bankSmoothDeg, atS)), fullWithinBankDeg, zeroAtBankDeg),
  );
  if (score === null) return absent('Not measured: the recording ends at the first action.');
  const { largestDeg, largestAtS } = largestBank(flight, fromS, toS);
  const kept = largestDeg <= fullWithinBankDeg;
  return {
    score,
    measured: rounded(largestDeg, 1),
    target: fullWithinBankDeg,
    unit: '°',
    band,
    atS: largestAtS,
    text: `At most ${degrees(largestDeg)} of bank while landing ahead, ${kept ? 'within' : 'beyond'} the ${degrees(fullWithinBankDeg)} that keep it ahead.`,
    details: { largestDeg: rounded(largestDeg, 1) },
  };
}

function largestBank(flight: Flight, fromS: number, toS: number): { largestDeg: number; largestAtS: number } {
  const { timeS, bankSmoothDeg } = flight;
  let largestDeg = Math.abs(valueAt(timeS, bankSmoothDeg, fromS));
  let largestAtS = fromS;
  const span = samplesWithin(timeS, fromS, toS);
  if (span !== null)
    for (let i = span.first; i <= span.last; i++) {
      const size = Math.abs(bankSmoothDeg[i] as number);
      if (size <= largestDeg) continue;
      largestDeg = size;
      largestAtS = timeS[i] as number;
    }
  return { largestDeg, largestAtS };
}
