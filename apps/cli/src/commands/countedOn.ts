// Between which heights a return is to be counted on.
import type { Plan, SpreadAtHeight } from '@stillprop/physics';
import { stopsOf } from './planWindows.js';

/** Heights tried from which a return is sure to end well 95 times in 100. */
export interface CountedOn {
  readonly fromFt: number;
  readonly toFt: number;
  /** First height tried above it at which that is not sure; null: none was tried. */
  readonly above: SpreadAtHeight | null;
}

const SHARE = 0.95;

export const isSure = ({ endsWell }: Pick<SpreadAtHeight, 'endsWell'>) => endsWell.low >= SHARE;

/**
 * The lowest run of heights tried at which the low end of the interval reaches the share, all of them inside one window
 * of flawless returns. The best of several point shares is too good by chance, so the share itself does not decide; nor
 * is anything told of heights below, above or without a trial.
 */
export function countedOn({ spread, returnWindows }: Plan): CountedOn | null {
  if (spread === null) return null;
  const { heights } = spread;
  const { wide } = stopsOf({ returnWindows });
  const windowOf = ({ heightFt }: SpreadAtHeight) =>
    wide.find(({ fromFt, toFt }) => heightFt >= fromFt && heightFt <= toFt);
  const at = heights.findIndex((height) => isSure(height) && windowOf(height) !== undefined);
  const first = heights[at];
  if (first === undefined) return null;
  const higher = heights.slice(at);
  const end = higher.findIndex((height) => !isSure(height) || windowOf(height) !== windowOf(first));
  const run = end === -1 ? higher : higher.slice(0, end);
  return {
    fromFt: first.heightFt,
    toFt: (run.at(-1) as SpreadAtHeight).heightFt,
    above: higher[run.length] ?? null,
  };
}
