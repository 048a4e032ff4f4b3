// Counts the draws of a spread on worker threads, one for each core.
import { availableParallelism } from 'node:os';
import {
  addCounts,
  countAtFirst,
  countTogether,
  type FlyRequest,
  type Spread,
  type SpreadOptions,
  type SpreadWork,
  spreadOf,
  spreadWork,
} from '@stillprop/physics';
import { Piscina } from 'piscina';

/** Work that is done within this time is done before threads would have started (ms). */
const ALONE_MS = 200;

export interface AllCoresOptions extends Omit<SpreadOptions, 'shouldStop'> {
  /** Ends the work at once, in the middle of a flight too. */
  readonly signal?: AbortSignal | undefined;
  /** Threads; one for each core that Node may use when absent. */
  readonly threads?: number | undefined;
  /** Time to count for before threads are started (ms). */
  readonly aloneMs?: number | undefined;
}

/**
 * The spread of physics, on all cores. Small ones start no thread.
 *
 * @throws {RangeError} As `spread`.
 * @throws The reason of `signal` once it is aborted.
 */
export async function spreadOnAllCores(request: FlyRequest, options: AllCoresOptions = {}): Promise<Spread> {
  const { signal, onProgress, threads = availableParallelism(), aloneMs = ALONE_MS } = options;
  signal?.throwIfAborted();
  const work = spreadWork(request, options);
  const { counts, rest } = countAtFirst(work, aloneMs);
  const { draws } = work;
  onProgress?.(counts.draws / draws);
  if (rest === null) return spreadOf(counts, options);
  const told = (share: number) => onProgress?.((counts.draws + share * rest.draws) / draws);
  const others = await onThreads(rest, threads, told, signal);
  return spreadOf(addCounts(counts, others), options);
}

async function onThreads(
  work: SpreadWork,
  threads: number,
  onProgress: (share: number) => void,
  signal: AbortSignal | undefined,
) {
  const pool = new Piscina<SpreadWork>({
    filename: new URL('./spreadThread.js', import.meta.url).href,
    execArgv: [], // the build's thread runs the build, whatever words this process was started with
    minThreads: threads,
    maxThreads: threads,
  });
  try {
    return await countTogether(work, (piece) => pool.run(piece, signal === undefined ? {} : { signal }), {
      lanes: threads,
      onProgress,
      signal,
    });
  } finally {
    await pool.destroy();
  }
}
