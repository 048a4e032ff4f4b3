import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cursorStep, spokenMoment } from './cursor.js';
import { figureRows } from './figuresTable.js';
import { teardrop } from './teardrop.fixture.js';
import { nearestIndex, nextSampleS, phaseAt, timeWindow, valueAt } from './traceAt.js';

const { trace, score } = teardrop();

test('the window runs from just before power was lost to just after contact, and counts from the loss', () => {
  expect(timeWindow(score, trace.timeS)).toEqual({ originS: 60, originText: 'power was lost', fromS: 55, toS: 119 });
  expect(timeWindow(score, trace.timeS, true)).toMatchObject({ originS: 60, fromS: 0, toS: 130 });
});

test('without a failure the whole flight is shown and counts from lift-off; without a lift-off, from its beginning', () => {
  expect(timeWindow({ ...score, failure: null }, trace.timeS)).toEqual({
    originS: 10,
    originText: 'lift-off',
    fromS: 0,
    toS: 130,
  });
  expect(timeWindow({ failure: null, events: [] }, trace.timeS)).toMatchObject({
    originS: 0,
    originText: 'the recording began',
  });
});

test('a recording that broke off ends where it ends', () => {
  const cut = trace.timeS.filter((timeS) => timeS <= 80);
  expect(timeWindow({ ...score, events: score.events.filter(({ atS }) => atS <= 80) }, cut).toS).toBe(80);
});

test('the nearest sample is the nearest', () => {
  const times = fc
    .uniqueArray(fc.integer({ min: 0, max: 1000 }), { minLength: 1, maxLength: 30 })
    .map((list) => list.sort((a, b) => a - b));
  fc.assert(
    fc.property(times, fc.double({ min: -50, max: 1050, noNaN: true }), (timeS, atS) => {
      const found = timeS[nearestIndex(timeS, atS)] as number;
      for (const other of timeS) expect(Math.abs(found - atS)).toBeLessThanOrEqual(Math.abs(other - atS));
    }),
  );
  expect(nearestIndex([], 3)).toBe(-1);
});

test('in a gap nothing was measured', () => {
  const gappy = { ...trace, timeS: [0, 1, 20, 21], heightFt: [5, 6, 7, 8] };
  expect(valueAt(gappy, 'heightFt', 1.2)).toBe(6);
  expect(valueAt(gappy, 'heightFt', 10)).toBeNull();
});

test('keys move the moment, and never out of the window', () => {
  const window = timeWindow(score, trace.timeS);
  const moved = (key: string, shift: boolean, atS: number) => cursorStep(key, shift, atS, window, trace.timeS);
  expect(moved('ArrowRight', false, 70)).toBe(70.5); // samples are half a second apart
  expect(moved('ArrowDown', false, 70.2)).toBe(70);
  expect(moved('ArrowLeft', true, 70)).toBeCloseTo(69, 9);
  expect(moved('Home', false, 70)).toBe(55);
  expect(moved('End', false, 70)).toBe(119);
  expect(moved('PageUp', false, 118)).toBe(119);
  expect(moved('ArrowRight', false, 119)).toBe(119);
  expect(moved('a', false, 70)).toBeNull();
});

test('the moment is told in words, with the phase and every figure', () => {
  const window = timeWindow(score, trace.timeS);
  const spoken = spokenMoment(trace, window, phaseAt(score.phases, 70), 70).replaceAll('\u00a0', ' ');
  expect(spoken).toBe(
    '10.0 s after power was lost, turn: height 818 ft, airspeed 92 kt, stall speed 76 kt, bank 45° right, vertical speed −1,090 ft/min',
  );
});

test('the table holds every event in the window and figures in even steps between', () => {
  const rows = figureRows(trace, score.events, timeWindow(score, trace.timeS));
  expect(rows.filter(({ event }) => event !== '').map(({ event }) => event)).toEqual([
    'power-lost',
    'first-action',
    'contact',
  ]);
  expect(rows.length).toBeGreaterThan(10);
  expect(rows.map(({ atS }) => atS)).toEqual([...rows.map(({ atS }) => atS)].sort((a, b) => a - b));
  const atTwenty = rows.find(({ sinceS }) => sinceS === 20);
  expect(atTwenty?.values.heightFt).toBeCloseTo(1000 - (20 / 55) * 1000, 6);
});

test.each([
  [10, 1, 10.5],
  [10, -1, 9.5],
  [10.2, 1, 10.5],
  [10.3, -1, 10],
  [9, -1, 9], // the first
  [11, 1, 11], // the last
  [12, -1, 11],
] as const)('the sample next to %s s in direction %s is at %s s', (atS, direction, nextS) => {
  expect(nextSampleS([9, 9.5, 10, 10.5, 11], atS, direction)).toBe(nextS);
});

test('without samples a step leads nowhere', () => {
  expect(nextSampleS([], 3, 1)).toBe(3);
});
