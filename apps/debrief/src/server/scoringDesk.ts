// Scores attempts one at a time, apart from the requests that bring them, so that live views and receipts do not wait.
import { setImmediate } from 'node:timers/promises';
import { problemOf, type Recording, type ReturnMoment, Score, type Trace } from '@stillprop/contracts';
import type { AttemptStore, StoredAttempt } from '@stillprop/store';

/** What the scoring package offers, here or in a thread of its own. */
export interface Scoring {
  /** @throws {ScoringAway} If the scoring itself is not to be had; any other error says what is wrong with the recording. */
  scoreRecording(recording: Recording): Score | Promise<Score>;
  traceOf(recording: Recording, maxPoints: number): Trace;
  returnMoment(recording: Recording): ReturnMoment;
  readonly ENGINE_REVISION: string;
  /** Ends a scoring under way, which then fails with `ScoringAway`. */
  close?(): Promise<void>;
}

/** The scoring could not be done for a reason that has nothing to do with the recording: it is tried again later. */
export class ScoringAway extends Error {
  override readonly name = 'ScoringAway';
}

export interface ScoringDesk {
  /** Has an attempt scored when its turn comes. */
  add(attemptId: string): void;
  /** The attempt with its score, or with the problem, by the present engine; goes before all that merely wait. */
  scored(attemptId: string): Promise<StoredAttempt | undefined>;
  /** Ends the scoring under way, or waits for it where it cannot be ended; what is not scored is after the next start. */
  close(): Promise<void>;
}

export interface ScoringDeskOptions {
  readonly store: Pick<AttemptStore, 'get' | 'recording' | 'saveScore'>;
  readonly scoring: Scoring;
  readonly onScored: (attemptId: string) => void;
  readonly log: (line: string) => void;
}

interface Job {
  readonly attemptId: string;
  readonly done: Promise<void>;
  readonly finish: () => void;
}

export function scoringDesk({ store, scoring, onScored, log }: ScoringDeskOptions): ScoringDesk {
  const { ENGINE_REVISION } = scoring;
  let waiting: Job[] = [];
  let current: Job | undefined;
  let closed = false;

  function jobFor(id: string): Job {
    const attemptId = id.toLowerCase();
    const known = waiting.find((job) => job.attemptId === attemptId);
    if (known !== undefined) return known;
    let finish = () => {};
    const done = new Promise<void>((resolve) => {
      finish = resolve;
    });
    const job = { attemptId, done, finish };
    waiting.push(job);
    return job;
  }

  async function work(): Promise<void> {
    if (current !== undefined) return;
    while (!closed) {
      current = waiting.shift();
      if (current === undefined) return;
      await setImmediate(); // let what has come in meanwhile be handled first
      try {
        await scoreOne(current.attemptId);
      } catch (error) {
        log(`attempt ${current.attemptId} could not be scored now: ${String(error)}`);
      }
      current.finish();
      current = undefined;
    }
  }

  async function scoreOne(attemptId: string): Promise<void> {
    const found = await store.get(attemptId);
    if (found === undefined || found.row.engineRevision === ENGINE_REVISION) return;
    const kept = await store.recording(attemptId);
    if (kept === undefined || 'problem' in kept) return; // gone or damaged: whoever asks for it is told so
    const result = await resultOf(kept.recording);
    if ('problem' in result) log(`attempt ${attemptId}: ${result.problem}`);
    if (await store.saveScore(attemptId, kept.sha256, result)) onScored(attemptId);
    else jobFor(attemptId); // the recording has grown meanwhile
  }

  async function resultOf(recording: Recording): Promise<Score | { engineRevision: string; problem: string }> {
    const refuse = (why: string) => ({
      engineRevision: ENGINE_REVISION,
      problem: `the recording is kept, but it could not be scored: ${why}`,
    });
    try {
      const score = await scoring.scoreRecording(recording);
      const parsed = Score.safeParse(score);
      return parsed.success ? parsed.data : refuse(problemOf(parsed.error, score, 'the score').message);
    } catch (error) {
      if (error instanceof ScoringAway) throw error;
      return refuse((error as Error).message);
    }
  }

  return {
    add(attemptId) {
      jobFor(attemptId);
      void work();
    },
    async scored(attemptId) {
      const found = await store.get(attemptId);
      if (found === undefined || found.row.engineRevision === ENGINE_REVISION || closed) return found;
      if (current?.attemptId === found.row.attemptId) {
        await current.done;
      } else {
        const job = jobFor(attemptId);
        waiting = [job, ...waiting.filter((other) => other !== job)];
        void work();
        await job.done;
      }
      return store.get(attemptId);
    },
    async close() {
      closed = true;
      await scoring.close?.();
      await current?.done;
      for (const job of waiting) job.finish();
      waiting = [];
    },
  };
}
