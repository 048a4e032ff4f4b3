// A spread on one core and on all of them: how much of the other cores arrives.
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { FlyRequest } from '@stillprop/contracts';
import { addCounts, type SpreadCounts } from '@stillprop/physics';
import type { Ratio } from '../../.tools/sideBySide.js';
import type { SpreadShare, SpreadTask } from './spreadWorker.js';

const DRAWS = 10_000;
/** Shares are handed out in pieces, so that a core that others keep busy does not hold up the rest. */
const PIECE = 250;
const ROUNDS = 1;
/** A thread does not take over the loader of TypeScript that this one runs under: it registers its own. */
const WORKER = new URL('./spreadWorker.ts', import.meta.url).href;
const LOADER = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(WORKER)}); });`;

export default async function spreadOnAllCores(): Promise<Ratio[]> {
  const request = FlyRequest.parse(
    JSON.parse(readFileSync(new URL('../../fixtures/requests/reference-1000ft.json', import.meta.url), 'utf8')),
  );
  const task: SpreadTask = { request, heightsFt: [700], seed: 1 };
  const cores = availableParallelism();
  const workers = Array.from(
    { length: cores },
    () => new Worker(LOADER, { eval: true, workerData: task, execArgv: ['--conditions=source'] }),
  );
  await counted(workers, DRAWS / 10); // to warm up
  const ratios: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const alone = await timed(workers.slice(0, 1));
    const together = await timed(workers);
    if (alone.counts.byHeight.join() !== together.counts.byHeight.join())
      throw new Error('divided between workers the spread came out otherwise');
    ratios.push(alone.ms / together.ms / cores);
  }
  await Promise.all(workers.map((worker) => worker.terminate()));
  return [
    {
      name: `a spread of ${DRAWS} draws, speed-up on all cores / their number (${cores})`,
      ratio: ratios.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number,
      goal: 0.85,
      better: 'higher',
    },
  ];
}

async function timed(workers: readonly Worker[]): Promise<{ ms: number; counts: SpreadCounts }> {
  const from = performance.now();
  const counts = await counted(workers, DRAWS);
  return { ms: performance.now() - from, counts };
}

/** Hands out the draws piece by piece to whichever worker is free. */
async function counted(workers: readonly Worker[], draws: number): Promise<SpreadCounts> {
  let next = 0;
  let sum: SpreadCounts | null = null;
  await Promise.all(
    workers.map(async (worker) => {
      while (next < draws) {
        const share: SpreadShare = { firstDraw: next, draws: Math.min(PIECE, draws - next) };
        next += share.draws;
        worker.postMessage(share);
        const [counts] = (await once(worker, 'message')) as [SpreadCounts];
        sum = sum === null ? counts : addCounts(sum, counts);
      }
    }),
  );
  if (sum === null) throw new Error('no draw was counted');
  return sum;
}
