// Derivative evaluations of the model against the same formulas written out by hand in one flat loop; garbage of a step.
import { type Ratio, timeRatio } from '../../../.tools/sideBySide.js';
import { turnLoops } from './turnLoop.fixture.js';

const STEPS = 300;
const FLIGHTS = 60;

/** Node's figures, asked for without Node's types: this package must not need them. */
const node = (globalThis as unknown as { process: { memoryUsage: () => { heapUsed: number } } }).process;

/**
 * Bytes of garbage a step, the most seen in loops of 18 000 steps: a loop that a collection fell into shows less than it
 * made, the others show all of it.
 */
function garbageBytesAStep(byModel: (steps: number) => unknown): number {
  let most = 0;
  for (let loop = 0; loop < 20; loop++) {
    const before = node.memoryUsage().heapUsed;
    for (let flight = 0; flight < FLIGHTS; flight++) byModel(STEPS);
    most = Math.max(most, node.memoryUsage().heapUsed - before);
  }
  return most / (STEPS * FLIGHTS);
}

export default function derivatives(): Ratio[] {
  const { byModel, byFlatLoop } = turnLoops();
  return [
    {
      name: 'derivative evaluations a second, the model / one flat loop of the same formulas',
      ratio: timeRatio(
        () => byFlatLoop(STEPS)[2] as number,
        () => byModel(STEPS)[2] as number,
      ),
      goal: 0.8,
      better: 'higher',
    },
    {
      name: 'bytes of garbage an integrator step makes (a boxed number an evaluation would be 64) / 1',
      ratio: garbageBytesAStep(byModel),
      goal: 16,
      better: 'lower',
    },
  ];
}
