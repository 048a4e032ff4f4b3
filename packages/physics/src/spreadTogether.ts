// One spread counted by many workers: hands out its draws in pieces and adds up what comes back.
import { addCounts, countDraws, noCounts, type SpreadCounts, type SpreadWork } from './spread.js';

/** Has one piece of work counted somewhere else. */
export type CountPiece = (piece: SpreadWork) => Promise<SpreadCounts>;

export interface CountTogetherOptions {
  /** How many pieces may be under way at once: one for each worker. */
  readonly lanes: number;
  /** Called after each piece with the share done, 0 to 1. */
  readonly onProgress?: ((share: number) => void) | undefined;
  /** Ends the work: no further piece is handed out. */
  readonly signal?: AbortSignal | undefined;
}

/**
 * Draws of a piece times its heights: some tens of milliseconds of work, so that handing it out costs little, progress
 * is told often, and a core that others keep busy does not hold up the rest at the end.
 */
const PIECE = 400;

/**
 * Counts the draws of a piece of work, divided between workers. The answer has the same bits as {@link countDraws}
 * gives alone, in whichever order the pieces come back. Holds no more than one piece a worker: memory does not grow
 * with the number of draws.
 *
 * @throws The reason of `signal` once it is aborted.
 * @throws What `countPiece` throws first; no further piece is then handed out.
 */
export async function countTogether(
  work: SpreadWork,
  countPiece: CountPiece,
  { lanes, onProgress, signal }: CountTogetherOptions,
): Promise<SpreadCounts> {
  const pieceDraws = Math.ceil(PIECE / work.heightsFt.length);
  let next = 0;
  let failed = false;
  let sum = noCounts(work.heightsFt);
  const lane = async () => {
    while (next < work.draws && !failed) {
      signal?.throwIfAborted();
      const draws = Math.min(pieceDraws, work.draws - next);
      const piece = { ...work, firstDraw: work.firstDraw + next, draws };
      next += draws;
      try {
        const counts = await countPiece(piece);
        sum = addCounts(sum, counts); // read only now: other lanes have added to it meanwhile
      } catch (error) {
        failed = true;
        throw signal?.aborted === true ? signal.reason : error;
      }
      onProgress?.(sum.draws / work.draws);
    }
  };
  await Promise.all(Array.from({ length: lanes }, lane));
  signal?.throwIfAborted();
  return sum;
}

/**
 * Counts for so long here, and says what is left of the work: workers are not worth starting for what is done before
 * they would be running.
 *
 * @param withinMs Time to count for (ms).
 */
export function countAtFirst(work: SpreadWork, withinMs: number): { counts: SpreadCounts; rest: SpreadWork | null } {
  const untilMs = performance.now() + withinMs;
  const counts = countDraws(work, { shouldStop: () => performance.now() >= untilMs });
  const left = work.draws - counts.draws;
  return { counts, rest: left === 0 ? null : { ...work, firstDraw: work.firstDraw + counts.draws, draws: left } };
}
