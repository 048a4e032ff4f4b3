// Counts its share of the draws of a spread and posts the counts.
import { parentPort, workerData } from 'node:worker_threads';
import { countSpread, type FlyRequest, type SpreadCounts } from '@stillprop/physics';

export interface SpreadTask {
  readonly request: FlyRequest;
  readonly heightsFt: readonly number[];
  readonly seed: number;
}

export interface SpreadShare {
  readonly firstDraw: number;
  readonly draws: number;
}

const { request, heightsFt, seed } = workerData as SpreadTask;
parentPort?.on('message', ({ firstDraw, draws }: SpreadShare) => {
  const counts: SpreadCounts = countSpread(request, { heightsFt, seed, firstDraw, draws });
  parentPort?.postMessage(counts);
});
