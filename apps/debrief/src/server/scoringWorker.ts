// The thread that scores: recordings in, scores out, so that the server's own thread goes on answering.
import { parentPort } from 'node:worker_threads';
import type { Recording } from '@stillprop/contracts';
import { scoreRecording } from '@stillprop/scoring';
import type { WorkerAnswer, WorkerReady, WorkerRequest } from './workerScoring.js';

parentPort?.postMessage({ ready: true } satisfies WorkerReady);
parentPort?.on('message', ({ id, recording }: WorkerRequest) => {
  parentPort?.postMessage(answer(id, recording));
});

function answer(id: number, recording: Recording): WorkerAnswer {
  try {
    return { id, score: scoreRecording(recording) };
  } catch (error) {
    return { id, problem: (error as Error).message };
  }
}
