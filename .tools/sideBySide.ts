// Measures two pieces of work in one run, turn and turn about, so that a busy machine slows both alike.

export interface Ratio {
  readonly name: string;
  /** Time of the work over time of the yardstick, unless the name says otherwise. */
  readonly ratio: number;
  readonly goal: number;
  readonly better: 'higher' | 'lower';
}

const ROUNDS = 21;
const ROUND_MS = 30;
let sink = 0;

/**
 * Median over the rounds of the time `work` takes divided by the time `yardstick` takes.
 * Each returns a number that depends on what it did, so that nothing can be optimised away.
 */
export function timeRatio(work: () => number, yardstick: () => number): number {
  const workRuns = runsIn(work);
  const yardstickRuns = runsIn(yardstick);
  const ratios: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const order = round % 2 === 0;
    const first = order ? timeOf(work, workRuns) : timeOf(yardstick, yardstickRuns);
    const second = order ? timeOf(yardstick, yardstickRuns) : timeOf(work, workRuns);
    ratios.push(order ? first / second : second / first);
  }
  if (!Number.isFinite(sink)) throw new Error('a benchmark computed no number');
  return ratios.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number;
}

/** How many runs fill a round, after some to warm up. */
function runsIn(work: () => number): number {
  timeOf(work, 3);
  const onceMs = timeOf(work, 5);
  return Math.max(1, Math.ceil(ROUND_MS / onceMs));
}

/** Mean time of one run (ms). */
function timeOf(work: () => number, runs: number): number {
  const start = performance.now();
  for (let run = 0; run < runs; run += 1) sink += work();
  return (performance.now() - start) / runs;
}
