// One odd latency must not move the next failure by tens of feet.
import { expect, test } from 'vitest';
import { Latencies } from './latencies.js';

function typicalOf(...measured: [latencyS: number, pace: number][]) {
  const latencies = new Latencies();
  for (const [latencyS, pace] of measured) latencies.add({ latencyS, pace });
  return latencies.typical?.latencyS ?? null;
}

test.each<[string, [number, number][], number | null]>([
  ['nothing measured', [], null],
  ['a single one', [[2.9, 20]], null],
  [
    'the smaller of two',
    [
      [2.9, 20],
      [0.2, 20],
    ],
    0.2,
  ],
  [
    'the middle of three',
    [
      [0.2, 20],
      [2.9, 19],
      [0.3, 21],
    ],
    0.3,
  ],
  [
    'a simulator that is slow indeed',
    [
      [1.2, 1],
      [1.3, 1],
    ],
    1.2,
  ],
  [
    'another pace does not count',
    [
      [0.2, 20],
      [0.2, 20],
      [0.05, 1],
    ],
    null,
  ],
  [
    'old ones are forgotten',
    [
      [9, 1],
      [9, 1],
      [9, 1],
      [0.1, 1],
      [0.1, 1],
      [0.1, 1],
      [0.1, 1],
      [0.1, 1],
    ],
    0.1,
  ],
])('%s', (_, measured, expected) => {
  expect(typicalOf(...measured)).toBe(expected);
});
