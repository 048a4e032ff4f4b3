// A ledger's rows as pieces of one falling line: each begins where the one before ended.
import type { Ledger } from '@stillprop/contracts';

export interface WaterfallPiece {
  /** Shares of the drawn width, 0 to 1, before and after the row. */
  readonly from: number;
  readonly to: number;
}

/** Pieces of the rows, and the scale they stand on: it holds zero and every height passed through. */
export function waterfall({ heightAtFailureFt, rows, heightAtContactFt }: Ledger): {
  readonly pieces: readonly WaterfallPiece[];
  share(heightFt: number): number;
} {
  const heights = [heightAtFailureFt];
  for (const row of rows) heights.push((heights.at(-1) as number) + row.heightFt);
  const low = Math.min(0, heightAtContactFt, ...heights);
  const high = Math.max(low + 1, ...heights);
  const share = (heightFt: number) => (heightFt - low) / (high - low);
  const pieces = rows.map((_, i) => ({ from: share(heights[i] as number), to: share(heights[i + 1] as number) }));
  return { pieces, share };
}
