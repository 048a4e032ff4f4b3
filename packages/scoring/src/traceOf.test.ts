// Columns for charts: equal lengths, thinned evenly, missing channels null.
import type { Recording, Sample } from '@stillprop/contracts';
import { Trace } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { shelfBundle } from './shelf.fixture.js';
import { syntheticRecording } from './synthetic.fixture.js';
import { traceOf } from './traceOf.js';

const { recording } = syntheticRecording(shelfBundle('first-turn-back'), {});

test('every sample, or as many as asked for with both ends kept', () => {
  const whole = traceOf(recording, 100_000);
  Trace.parse(whole);
  expect(whole.timeS).toHaveLength(recording.samples.length);
  expect(whole.heightFt[500]).toBeCloseTo(recording.samples[500]?.heightFt ?? 0, 1);
  expect(traceOf(recording).timeS).toHaveLength(2000);
  const few = traceOf(recording, 100);
  expect(few.timeS).toHaveLength(100);
  expect(few.timeS[0]).toBe(whole.timeS[0]);
  expect(few.timeS.at(-1)).toBe(whole.timeS.at(-1));
});

test('the stall speed follows the load factor: 64 kt·√(1/cos 45°) in the turn', () => {
  const { timeS, stallSpeedKt, bankDeg, loadFactor } = traceOf(recording, 100_000);
  const turning = timeS.findIndex((atS, i) => atS > 70 && (bankDeg[i] ?? 0) > 44.9);
  expect(loadFactor[turning]).toBeCloseTo(1.41, 1);
  expect(Math.abs((stallSpeedKt[turning] ?? 0) - 76.1)).toBeLessThan(1);
});

test('what was not recorded is null', () => {
  const bare: Recording = {
    ...recording,
    header: { ...recording.header, runway: { ...recording.header.runway, start: undefined } as never },
    samples: recording.samples.map(({ loadFactor: _, powerFraction: __, ...sample }): Sample => sample),
  };
  const trace = traceOf(bare);
  for (const column of [trace.alongFt, trace.acrossFt, trace.loadFactor, trace.powerFraction])
    expect(column.every((value) => value === null)).toBe(true);
  expect(trace.stallSpeedKt.some((value) => value !== null)).toBe(true);
});
