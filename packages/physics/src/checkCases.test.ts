// The reference aeroplane against figures of an independent program with the same equations.
import { expect, test } from 'vitest';
import { flyAttempt } from './flyAttempt.js';
import { requestR } from './reference.fixture.js';

// Independent program, same equations; R failing at 1000 ft. Tolerance: 3 %, or 4 ft, 0.4 kt, 25 ft/min if larger.
const CASES = [
  { name: 'R', change: {}, along: 8517, gained: 55, lost: 9.2, to180: 316, sink: 1746, margin: 1.088 },
  {
    name: 'delay 1 s',
    change: { technique: { delayS: 1 } },
    along: 8517,
    gained: 36,
    lost: 2.3,
    to180: 299,
    sink: 1471,
    margin: 1.129,
  },
  {
    name: 'delay 5 s',
    change: { technique: { delayS: 5 } },
    along: 8517,
    gained: 58,
    lost: 12.8,
    to180: 336,
    sink: 1840,
    margin: 1.076,
  },
  {
    name: 'bank 30°',
    change: { technique: { bankDeg: 30, stallMargin: 1.02 } },
    along: 8517,
    gained: 55,
    lost: 9.2,
    to180: 413,
    sink: 1414,
    margin: 1.192,
  },
  {
    name: 'target 95 kt',
    change: { technique: { targetKcas: 95, stallMargin: 1.02 } },
    along: 8517,
    gained: 55,
    lost: 9.2,
    to180: 417,
    sink: 2425,
    margin: 1.115,
  },
  {
    name: 'target 75 kt',
    change: { technique: { targetKcas: 75, stallMargin: 1.02 } },
    along: 8517,
    gained: 57,
    lost: 9.2,
    to180: 229,
    sink: 1377,
    margin: 1.029,
  },
  {
    name: 'climb 108 kt',
    change: { technique: { climbKcas: 108 } },
    along: 10_691,
    gained: 64,
    lost: 8.2,
    to180: 202,
    sink: 1424,
    margin: 1.136,
  },
  {
    name: 'hot and high',
    change: { runway: { elevationFt: 5000 }, weather: { temperatureC: 30, qnhHpa: 1013.25, winds: [] } },
    along: 15_830,
    gained: 29,
    lost: 6.7,
    to180: 411,
    sink: 1655,
    margin: 1.127,
  },
];

test('all eight cases are here', () => expect(CASES).toHaveLength(8));

test.each(CASES)(
  '$name agrees with the independent program',
  ({ change, along, gained, lost, to180, sink, margin }) => {
    const flown = flyAttempt(requestR(change));
    near(flown.failure.distanceFt, along, 4);
    near(flown.heightGainedFt, gained, 4);
    near(flown.speedLostKt, lost, 0.4);
    near(flown.heightLostTo180Ft ?? Number.NaN, to180, 4);
    near(flown.largestSinkFpm, sink, 25);
    near(flown.leastStallMargin, margin, 0);
  },
);

function near(found: number, wanted: number, atLeast: number): void {
  const tolerance = Math.max(0.03 * Math.abs(wanted), atLeast);
  expect(found).toBeGreaterThanOrEqual(wanted - tolerance);
  expect(found).toBeLessThanOrEqual(wanted + tolerance);
}
