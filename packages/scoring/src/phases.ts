// The attempt cut into phases, one after the other, none overlapping.
import type { Phase, PhaseName } from '@stillprop/contracts';
import type { Moments } from './moments.js';
import { rounded } from './words.js';

/** A heading that never changed by so much was no turn; common practice, no source. */
const TURN_DEG = 20;

/** A phase in full precision. */
export interface Span {
  readonly name: PhaseName;
  readonly fromS: number;
  readonly toS: number;
}

/**
 * Phases of an attempt. Each begins where the one before ends, and one without a length is left out:
 * delay (loss to first action), push (to where pitch has come down), turn (to wings level), straight (to the alignment
 * turn), align (to where the track stays within 10° of the runway), final, flare, roll-out. Ahead there is only
 * `straight` between push and flare, and so it is where the heading never changed by 20°: a recording that ends in the air
 * on a straight course holds no turn. What the recording lost sight of belongs to the phase before.
 */
export function spansOf(moments: Moments, beginsS: number): Span[] {
  const { endS, liftOffS, lossS, contactS } = moments;
  const starts: [PhaseName, number | null][] = [];
  if (liftOffS !== null) starts.push(['take-off', beginsS]);
  starts.push(['climb', liftOffS ?? beginsS]);
  if (lossS !== null) starts.push(...afterLoss(moments, lossS));
  if (contactS !== null) starts.push(['roll-out', contactS]);
  const found = starts.filter((start): start is [PhaseName, number] => start[1] !== null);
  const lastS = contactS === null ? endS : (moments.stoppedS ?? endS);
  const spans: Span[] = [];
  let fromS = beginsS;
  for (const [index, [name, startS]] of found.entries()) {
    fromS = Math.max(fromS, startS);
    const next = found[index + 1]?.[1] ?? lastS;
    const limitS = name === 'roll-out' || contactS === null ? lastS : contactS;
    const toS = Math.min(Math.max(next, fromS), Math.max(limitS, fromS));
    if (toS > fromS) spans.push({ name, fromS, toS });
    fromS = toS;
  }
  return spans;
}

/** As they stand in a score. */
export function phasesOf(spans: readonly Span[]): Phase[] {
  return spans.map(({ name, fromS, toS }) => ({ name, fromS: rounded(fromS), toS: rounded(toS) }));
}

function afterLoss(moments: Moments, lossS: number): [PhaseName, number | null][] {
  const { firstActionS, pushCompleteS, wingsLevelS, alignBeginsS, alignedS, flareS, turn } = moments;
  if (firstActionS === null) return [['delay', lossS]];
  const actionS = Math.max(firstActionS, lossS);
  const push: [PhaseName, number | null][] = [
    ['delay', lossS],
    ['push', actionS],
  ];
  const pushEndsS = pushCompleteS ?? moments.bankEstablishedS ?? actionS;
  const straight = turn !== null && turn.side === null && turn.turnedDeg < TURN_DEG;
  if (turn?.kind === 'ahead' || straight) return [...push, ['straight', pushEndsS], ['flare', flareS]];
  return [
    ...push,
    ['turn', wingsLevelS === null ? pushEndsS : Math.min(pushEndsS, wingsLevelS)],
    ['straight', wingsLevelS],
    ['align', alignBeginsS],
    ['final', alignedS],
    ['flare', flareS],
  ];
}
