// Delay: from the loss of power to the first decisive action.
import type { Attempt } from '../attempt.js';
import type { Control } from '../firstAction.js';
import { rounded, seconds, secondsAsked } from '../words.js';
import { type Marked, marks, notMeasured } from './marks.js';

/**
 * Marks for the delay between the loss of power and the first decisive action (see `firstAction`): full up to
 * `fullWithinS`, none from `zeroAtS`. An action begun before the loss is not marked at all, for it shows no reaction.
 * Nothing decisive up to the ground, or for longer than `zeroAtS`, has no marks.
 */
export function delayCriterion({ recording, moments }: Attempt): Marked {
  const { fullWithinS, zeroAtS } = recording.header.rubric.delay;
  const band = { from: 0, to: fullWithinS };
  const absent = (text: string) => notMeasured(fullWithinS, 's', band, text);
  const { lossS, firstActionS, control, contactS, actionGiveOrTakeS } = moments;
  if (lossS === null) return absent('Not measured: no loss of power in this recording.');
  if (moments.early) return absent('Not measured: you were already acting when the power was lost.');
  if (firstActionS === null || control === null) {
    const waitedS = (contactS ?? moments.endS) - lossS;
    if (contactS === null && (recording.header.drawn.kind !== 'total' || waitedS < zeroAtS))
      return absent(
        `Not measured: the recording ends ${seconds(waitedS)} after the power was lost, before any decisive action.`,
      );
    const until = contactS === null ? 'to the end of the recording' : 'to the ground';
    return {
      ...absent(`Nothing decisive in the ${seconds(waitedS)} from the loss of power ${until}: lower the nose at once.`),
      score: 0,
      measured: rounded(waitedS, 2),
      atS: lossS,
    };
  }
  const delayS = firstActionS - lossS;
  const verdict =
    delayS <= fullWithinS
      ? `within the ${secondsAsked(fullWithinS)} allowed.`
      : `${seconds(delayS - fullWithinS)} more than the ${secondsAsked(fullWithinS)} allowed.`;
  const hidden =
    actionGiveOrTakeS === null
      ? ''
      : ` The data has a gap there: it may have been ${seconds(actionGiveOrTakeS)} sooner or later.`;
  return {
    score: marks(delayS, fullWithinS, zeroAtS),
    measured: rounded(delayS, 2),
    target: fullWithinS,
    unit: 's',
    band,
    atS: firstActionS,
    text: `First action ${seconds(delayS)} after the power was lost (${CONTROL_WORDS[control]}), ${verdict}${hidden}`,
    details: {},
  };
}

export const CONTROL_WORDS: { readonly [control in Control]: string } = {
  'nose-down': 'nose down',
  'nose-held': 'nose caught after falling by itself',
  bank: 'bank into the turn',
  both: 'nose down and bank together',
};
