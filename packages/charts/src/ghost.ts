// The ghost: the same failure flown as asked, by the model, to be drawn beside what was flown.

/** A modelled flight from the loss of power to the contact, columns of equal length, time ascending. */
export interface Ghost {
  /** The recording's seconds. */
  readonly timeS: readonly number[];
  readonly alongFt: readonly number[];
  readonly acrossFt: readonly number[];
  readonly heightFt: readonly number[];
  readonly airspeedKcas: readonly number[];
  /** Right positive. */
  readonly bankDeg: readonly number[];
  /** Up positive. */
  readonly verticalSpeedFpm: readonly number[];
}
export type GhostColumn = Exclude<keyof Ghost, 'timeS'>;

export const GHOST_LABEL = 'as asked, by the model';
export const GHOST_SHORT = 'as asked';

/** A column between its rows; null before the first and after the last. */
export function ghostAt({ timeS, ...columns }: Ghost, column: GhostColumn, atS: number): number | null {
  const last = timeS.length - 1;
  if (last < 0 || atS < (timeS[0] as number) || atS > (timeS[last] as number)) return null;
  let low = 0;
  let high = last;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((timeS[middle] as number) < atS) low = middle + 1;
    else high = middle;
  }
  const values = columns[column];
  const to = values[low] as number;
  if (low === 0) return to;
  const from = values[low - 1] as number;
  const fromS = timeS[low - 1] as number;
  const spanS = (timeS[low] as number) - fromS;
  return spanS > 0 ? from + ((to - from) * (atS - fromS)) / spanS : to;
}
