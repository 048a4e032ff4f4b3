import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cursorStep, spokenMoment } from './cursor.js';
import { figureRows } from './figuresTable.js';
import { teardrop } from './teardrop.fixture.js';
import { nearestIndex, phaseAt, timeWindow, valueAt } from './traceAt.js';

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
  expect(cursorStep('ArrowRight', false, 70, window)).toBeCloseTo(70.2, 9);
  expect(cursorStep('ArrowLeft', true, 70, window)).toBeCloseTo(68, 9);
  expect(cursorStep('Home', false, 70, window)).toBe(55);
  expect(cursorStep('End', false, 70, window)).toBe(119);
  expect(cursorStep('PageUp', false, 118, window)).toBe(119);
  expect(cursorStep('a', false, 70, window)).toBeNull();
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
