// Counts pieces of a spread and posts the counts; a piece of null is a loop that shares nothing, to see what the cores give.
import { parentPort } from 'node:worker_threads';
import { countDraws, type SpreadWork } from '@stillprop/physics';

/** Turns of the loop that shares nothing. */
const TURNS = 5_000_000;

function alone(): number {
  let sum = 0;
  for (let i = 1; i <= TURNS; i++) sum += Math.sin(i) / i;
  return sum;
}

parentPort?.on('message', (piece: SpreadWork | null) => {
  parentPort?.postMessage(piece === null ? alone() : countDraws(piece));
});
