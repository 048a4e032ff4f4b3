// Counts the draws of a spread in workers of the browser, one for each core.
import { countTogether, type SpreadCounts, type SpreadWork } from '@stillprop/physics';

/** What the worker posts for each piece it is sent. */
export type SpreadAnswer = { readonly counts: SpreadCounts } | { readonly problem: string };

/** The part of a `Worker` that is used here. */
export type CountingWorker = Pick<Worker, 'postMessage' | 'terminate' | 'onmessage' | 'onmessageerror' | 'onerror'>;

export interface SpreadPoolOptions {
  /** Ends the work and its workers at once, in the middle of a flight too. */
  readonly signal?: AbortSignal | undefined;
  /** Called with the share done, 0 to 1. */
  readonly onProgress?: ((share: number) => void) | undefined;
  /** Workers at most; one for each core that the browser tells of when absent. */
  readonly lanes?: number | undefined;
  readonly startWorker?: (() => CountingWorker) | undefined;
}

/**
 * The counts of a spread, with the same bits as `countDraws` gives alone. A worker is started when there is a piece for
 * it, used for all pieces it comes to, and ended with the work.
 *
 * @throws The reason of `signal` once it is aborted.
 * @throws {Error} With one sentence, if a worker cannot start, stops, or fails over a piece; all are ended then.
 */
export async function countInWorkers(work: SpreadWork, options: SpreadPoolOptions = {}): Promise<SpreadCounts> {
  const { signal, onProgress, lanes = cores(), startWorker = startSpreadWorker } = options;
  signal?.throwIfAborted();
  const started: CountingWorker[] = [];
  const idle: CountingWorker[] = [];
  const start = () => {
    const worker = startWorker();
    started.push(worker);
    return worker;
  };
  const countPiece = async (piece: SpreadWork) => {
    const worker = idle.pop() ?? start();
    const counts = await counted(worker, piece);
    idle.push(worker);
    return counts;
  };
  const over = new AbortController();
  try {
    return await Promise.race([
      countTogether(work, countPiece, { lanes, onProgress, signal }),
      ...(signal === undefined ? [] : [abortOf(signal, over.signal)]),
    ]);
  } finally {
    over.abort();
    for (const worker of started) worker.terminate();
  }
}

const startSpreadWorker = (): CountingWorker =>
  new Worker(new URL('./spreadWorker.ts', import.meta.url), { type: 'module' });

const cores = () => Math.max(1, navigator.hardwareConcurrency || 1);

function counted(worker: CountingWorker, piece: SpreadWork): Promise<SpreadCounts> {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<SpreadAnswer>) => {
      if ('counts' in data) resolve(data.counts);
      else reject(new Error(`The flights could not be counted: ${data.problem}.`));
    };
    worker.onmessageerror = () => reject(new Error('The answer of a counting worker could not be read.'));
    // A script that could not be fetched or was not let in comes as an event without a message.
    worker.onerror = ({ message }) =>
      reject(new Error(message ? `A counting worker stopped: ${message}.` : 'A counting worker could not be started.'));
    worker.postMessage(piece);
  });
}

/** Rejects with the reason of a signal, unless `over` comes first. */
function abortOf(signal: AbortSignal, over: AbortSignal): Promise<never> {
  return new Promise((_, reject) => {
    signal.addEventListener('abort', () => reject(signal.reason), { once: true, signal: over });
  });
}
