// A million steps leave nothing behind: the heap is as large after them as before. (What they make on the way is measured in derivatives.bench.ts.)
import { expect, test } from 'vitest';
import { turnLoops } from './turnLoop.fixture.js';

/** Node's figures, asked for without Node's types: this package must not need them. */
const node = (globalThis as unknown as { process: { memoryUsage: () => { heapUsed: number } } }).process;

test('the heap does not grow over a million steps', () => {
  const { byModel } = turnLoops();
  byModel(20_000);
  const used: number[] = [];
  for (let i = 0; i < 50; i++) {
    byModel(20_000);
    used.push(node.memoryUsage().heapUsed);
  }
  // Numbers on their way between functions come and go; what stays is told by the least each half saw.
  const least = (values: number[]) => Math.min(...values);
  const grownBytes = least(used.slice(25)) - least(used.slice(0, 25));
  expect(grownBytes / 1_000_000).toBeLessThan(2);
});
