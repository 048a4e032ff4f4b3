// Has recordings scored in a thread of their own; a thread that dies or does not answer is replaced.
import { Worker } from 'node:worker_threads';
import type { Recording, Score } from '@stillprop/contracts';
import { ScoringAway } from './scoringDesk.js';

export interface WorkerRequest {
  readonly id: number;
  readonly recording: Recording;
}
/** The thread's first word: from now on an end of it is the fault of the recording it has. */
export interface WorkerReady {
  readonly ready: true;
}
export type WorkerAnswer =
  | { readonly id: number; readonly score: Score }
  | { readonly id: number; readonly problem: string };

export interface WorkerScoring {
  /**
   * @throws {Error} What the scoring threw, or that its thread ended or took too long over this recording.
   * @throws {ScoringAway} If the thread cannot start, or was closed.
   */
  scoreRecording(recording: Recording): Promise<Score>;
  close(): Promise<void>;
}

interface Pending {
  readonly resolve: (score: Score) => void;
  readonly reject: (error: Error) => void;
  readonly timer: NodeJS.Timeout;
}

export interface WorkerScoringOptions {
  /** How long one recording may take; the largest one received takes about 6 s (measured). A minute if absent. */
  readonly withinMs?: number;
  /** Words for Node in the thread: those that let it run from source. */
  readonly execArgv?: readonly string[];
}

/** @param script Module of the thread: says {@link WorkerReady}, then answers each {@link WorkerRequest} once. */
export function workerScoring(script: URL, options: WorkerScoringOptions = {}): WorkerScoring {
  const { withinMs = 60_000, execArgv = [] } = options;
  const pending = new Map<number, Pending>();
  let worker: Worker | undefined;
  let ready = false;
  let closed = false;
  let lastId = 0;

  function settle(id: number, use: (waiting: Pending) => void): void {
    const waiting = pending.get(id);
    if (waiting === undefined) return;
    pending.delete(id);
    clearTimeout(waiting.timer);
    use(waiting);
  }

  function giveUp(error: Error): void {
    const ended = worker;
    worker = undefined;
    for (const id of [...pending.keys()]) settle(id, ({ reject }) => reject(error));
    void ended?.terminate();
  }

  /** Before its first word the thread has not looked at any recording. */
  function ended(how: string): void {
    giveUp(ready ? new Error(`the scoring ended${how}`) : new ScoringAway(`the scoring cannot start${how}`));
  }

  function running(): Worker {
    if (worker !== undefined) return worker;
    const started = new Worker(script, { execArgv: [...execArgv] });
    worker = started;
    ready = false;
    started.unref(); // a server that closes does not wait for it
    started.on('message', (message: WorkerReady | WorkerAnswer) => {
      if ('ready' in message) {
        if (worker === started) ready = true;
        return;
      }
      settle(message.id, ({ resolve, reject }) => {
        if ('score' in message) resolve(message.score);
        else reject(new Error(message.problem));
      });
    });
    started.on('error', (error) => worker === started && ended(`: ${error.message}`));
    started.on('exit', (code) => worker === started && ended(` (${code})`));
    return started;
  }

  return {
    scoreRecording(recording) {
      return new Promise((resolve, reject) => {
        if (closed) return reject(new ScoringAway('the server is closing'));
        lastId += 1;
        const late = new Error(`the scoring took more than ${withinMs / 1000} s`);
        const timer = setTimeout(() => giveUp(late), withinMs);
        pending.set(lastId, { resolve, reject, timer });
        running().postMessage({ id: lastId, recording } satisfies WorkerRequest);
      });
    },
    async close() {
      closed = true;
      const last = worker;
      giveUp(new ScoringAway('the server is closing'));
      await last?.terminate();
    },
  };
}
