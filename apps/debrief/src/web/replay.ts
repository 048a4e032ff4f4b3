// The clock of a replay: which moment is shown after so much time, and where it ends.

export interface ReplaySpan {
  readonly fromS: number;
  readonly toS: number;
}

/** Times real time, slowest first. */
export const REPLAY_SPEEDS = [0.25, 0.5, 1, 2, 4, 8] as const;

/** A tab that was in the background does not leap over what nobody saw (s of real time). */
const LONGEST_FRAME_S = 0.25;

/** @returns The moment after a frame, and whether the end is reached. Moments outside the span begin at its start. */
export function played(
  atS: number | null,
  frameS: number,
  speed: number,
  { fromS, toS }: ReplaySpan,
): { readonly atS: number; readonly ended: boolean } {
  const startS = atS === null || atS < fromS || atS >= toS ? fromS : atS;
  const next = startS + Math.min(Math.max(frameS, 0), LONGEST_FRAME_S) * speed;
  return next >= toS ? { atS: toS, ended: true } : { atS: next, ended: false };
}

/** The moment nearest to another inside the span. */
export function within(atS: number, { fromS, toS }: ReplaySpan): number {
  return Math.min(toS, Math.max(fromS, atS));
}
