// Has recordings scored in a thread of their own; a thread that dies or does not answer is replaced.
import { Worker } from 'node:worker_threads';
import type { Recording, Score } from '@stillprop/contracts';

export interface WorkerRequest {
  readonly id: number;
  readonly recording: Recording;
}
export type WorkerAnswer =
  | { readonly id: number; readonly score: Score }
  | { readonly id: number; readonly problem: string };

export interface WorkerScoring {
  /** @throws {Error} What the scoring threw, or that its thread ended or took too long. */
  scoreRecording(recording: Recording): Promise<Score>;
  close(): Promise<void>;
}

interface Pending {
  readonly resolve: (score: Score) => void;
  readonly reject: (error: Error) => void;
  readonly timer: NodeJS.Timeout;
}

/** @param script Module of the thread; it answers each {@link WorkerRequest} with one {@link WorkerAnswer}. */
export function workerScoring(script: URL, withinMs = 60_000): WorkerScoring {
  const pending = new Map<number, Pending>();
  let worker: Worker | undefined;
  let lastId = 0;

  function settle(id: number, use: (waiting: Pending) => void): void {
    const waiting = pending.get(id);
    if (waiting === undefined) return;
    pending.delete(id);
    clearTimeout(waiting.timer);
    use(waiting);
  }

  function giveUp(why: string): void {
    const ended = worker;
    worker = undefined;
    for (const id of [...pending.keys()]) settle(id, ({ reject }) => reject(new Error(why)));
    void ended?.terminate();
  }

  function running(): Worker {
    if (worker !== undefined) return worker;
    const started = new Worker(script, { execArgv: [] });
    worker = started;
    started.unref(); // a server that closes does not wait for it
    started.on('message', (answer: WorkerAnswer) =>
      settle(answer.id, ({ resolve, reject }) => {
        if ('score' in answer) resolve(answer.score);
        else reject(new Error(answer.problem));
      }),
    );
    started.on('error', (error) => worker === started && giveUp(`the scoring ended: ${error.message}`));
    started.on('exit', (code) => worker === started && giveUp(`the scoring ended (${code})`));
    return started;
  }

  return {
    scoreRecording(recording) {
      return new Promise((resolve, reject) => {
        lastId += 1;
        const timer = setTimeout(() => giveUp(`the scoring took more than ${withinMs / 1000} s`), withinMs);
        pending.set(lastId, { resolve, reject, timer });
        running().postMessage({ id: lastId, recording } satisfies WorkerRequest);
      });
    },
    async close() {
      const ended = worker;
      giveUp('the server is closing');
      await ended?.terminate();
    },
  };
}
