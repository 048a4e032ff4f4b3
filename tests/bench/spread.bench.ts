// A spread on one core and on all of them: how much of the other cores arrives.
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { FlyRequest } from '@stillprop/contracts';
import { countTogether, type SpreadCounts, type SpreadWork, spreadWork } from '@stillprop/physics';
import type { Ratio } from '../../.tools/sideBySide.js';

const DRAWS = 10_000;
/** Loops that share nothing, for each core. */
const LOOPS = 4;
/** A thread does not take over the loader of TypeScript that this one runs under: it registers its own. */
const WORKER = new URL('./spreadWorker.ts', import.meta.url).href;
const LOADER = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(WORKER)}); });`;

export default async function spreadOnAllCores(): Promise<Ratio[]> {
  const request = FlyRequest.parse(
    JSON.parse(readFileSync(new URL('../../fixtures/requests/reference-1000ft.json', import.meta.url), 'utf8')),
  );
  const work = spreadWork(request, { heightsFt: [700], seed: 1, draws: DRAWS });
  const cores = availableParallelism();
  const workers = Array.from(
    { length: cores },
    () => new Worker(LOADER, { eval: true, execArgv: ['--conditions=source'] }),
  );
  await timed(workers, { ...work, draws: DRAWS / 10 }); // to warm up
  await timedLoops(workers, cores);
  // What two threads get of a machine that others use too changes by the minute: measured next to each other.
  const loopAlone = await timedLoops(workers.slice(0, 1), LOOPS * cores);
  const alone = await timed(workers.slice(0, 1), work);
  const together = await timed(workers, work);
  const loopTogether = await timedLoops(workers, LOOPS * cores);
  if (alone.counts.byHeight.join() !== together.counts.byHeight.join())
    throw new Error('divided between workers the spread came out otherwise');
  await Promise.all(workers.map((worker) => worker.terminate()));
  return [
    {
      name: `a spread of ${DRAWS} draws, speed-up on all cores / their number (${cores})`,
      ratio: alone.ms / together.ms / cores,
      goal: 0.85,
      better: 'higher',
    },
    {
      name: `loops that share nothing, speed-up on all cores / their number (${cores}): what the machine gives`,
      ratio: loopAlone / loopTogether / cores,
      goal: 0.85,
      better: 'higher',
    },
  ];
}

async function timed(workers: readonly Worker[], work: SpreadWork): Promise<{ ms: number; counts: SpreadCounts }> {
  const idle = [...workers];
  const from = performance.now();
  const counts = await countTogether(
    work,
    async (piece) => {
      const worker = idle.pop() as Worker;
      const answer = await asked(worker, piece);
      idle.push(worker);
      return answer as SpreadCounts;
    },
    { lanes: workers.length },
  );
  return { ms: performance.now() - from, counts };
}

/** Time in which the loops that share nothing are done, so many for all workers together (ms). */
async function timedLoops(workers: readonly Worker[], loops: number): Promise<number> {
  const from = performance.now();
  let left = loops;
  await Promise.all(
    workers.map(async (worker) => {
      while (left-- > 0) await asked(worker, null);
    }),
  );
  return performance.now() - from;
}

async function asked(worker: Worker, piece: SpreadWork | null): Promise<unknown> {
  worker.postMessage(piece);
  const [answer] = await once(worker, 'message');
  return answer;
}
