// Workers that are not real: what the pool hands out, tells of its progress, and ends.
import { FlyRequest } from '@stillprop/contracts';
import { countDraws, type SpreadWork, spreadWork } from '@stillprop/physics';
import { expect, test } from 'vitest';
import reference from '../../../../../fixtures/requests/reference-1000ft.json' with { type: 'json' };
import { type CountingWorker, countInWorkers } from './spreadPool.js';

const work = spreadWork(FlyRequest.parse(reference), { draws: 1300, seed: 5 });

/** Answers as the real one, later; `answer` may do something else over the piece of that number (1: the first of all). */
function fakes(answer: (worker: CountingWorker, piece: number) => boolean = () => false) {
  const log = { started: 0, ended: 0, pieces: 0 };
  const startWorker = (): CountingWorker => {
    log.started++;
    let ended = false;
    const worker: CountingWorker = {
      onmessage: null,
      onmessageerror: null,
      onerror: null,
      terminate() {
        ended = true;
        log.ended++;
      },
      postMessage(piece: SpreadWork) {
        log.pieces++;
        const number = log.pieces;
        setTimeout(() => {
          if (ended || answer(worker, number)) return;
          worker.onmessage?.call(worker as Worker, { data: { counts: countDraws(piece) } } as MessageEvent);
        });
      },
    };
    return worker;
  };
  return { log, startWorker };
}

test('the counts are those of one core, told with progress up to 1, and each worker is started once and ended', async () => {
  const { log, startWorker } = fakes();
  const shares: number[] = [];
  const counts = await countInWorkers(work, { lanes: 3, startWorker, onProgress: (share) => shares.push(share) });
  expect(counts).toEqual(countDraws(work));
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect([shares.length, shares.at(-1)]).toEqual([log.pieces, 1]);
  expect(log).toEqual({ started: 3, ended: 3, pieces: log.pieces });
  expect(log.pieces).toBeGreaterThan(3);
});

test('no worker is started that has nothing to do', async () => {
  const { log, startWorker } = fakes();
  await countInWorkers({ ...work, draws: 10 }, { lanes: 64, startWorker });
  expect(log).toEqual({ started: 1, ended: 1, pieces: 1 });
});

test('a cancel while pieces are being counted ends all workers at once and throws its reason', async () => {
  const cancel = new AbortController();
  const { log, startWorker } = fakes((_, piece) => {
    if (piece === 3) cancel.abort(new Error('enough'));
    return piece >= 3; // these are never answered
  });
  const counting = countInWorkers(work, { lanes: 2, startWorker, signal: cancel.signal });
  await expect(counting).rejects.toThrow('enough');
  expect([log.started, log.ended]).toEqual([2, 2]);
  const { pieces } = log;
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(log.pieces).toBe(pieces);
});

test('cancelled before it begins, it starts no worker', async () => {
  const { log, startWorker } = fakes();
  const counting = countInWorkers(work, { startWorker, lanes: 2, signal: AbortSignal.abort(new Error('too late')) });
  await expect(counting).rejects.toThrow('too late');
  expect(log.started).toBe(0);
});

type Failure = (worker: CountingWorker) => void;
const failures: [string, Failure, string][] = [
  [
    'fails over a piece',
    (worker) => worker.onmessage?.call(worker as Worker, { data: { problem: 'draws must be 1' } } as MessageEvent),
    'The flights could not be counted: draws must be 1.',
  ],
  [
    'stops',
    (worker) => worker.onerror?.call(worker as Worker, { message: 'out of memory' } as ErrorEvent),
    'A counting worker stopped: out of memory.',
  ],
  [
    'cannot start',
    (worker) => worker.onerror?.call(worker as Worker, {} as ErrorEvent),
    'A counting worker could not be started.',
  ],
  [
    'answers what cannot be read',
    (worker) => worker.onmessageerror?.call(worker as Worker, {} as MessageEvent),
    'The answer of a counting worker could not be read.',
  ],
];

test.each(failures)('a worker that %s ends the work with one sentence', async (_, fail, sentence) => {
  const { log, startWorker } = fakes((worker, piece) => {
    if (piece === 2) fail(worker);
    return piece === 2;
  });
  await expect(countInWorkers(work, { lanes: 2, startWorker })).rejects.toThrow(new Error(sentence));
  expect([log.started, log.ended]).toEqual([2, 2]);
});
