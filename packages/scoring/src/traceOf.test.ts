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

test('airspeed that a track log did not measure is not drawn, nor a stall speed beside it; what is inferred otherwise is', () => {
  const header = {
    ...recording.header,
    imported: {
      format: 'gpx' as const,
      lossFrom: 'given' as const,
      unmeasured: ['indicatedAirspeedKt' as const, 'bankDeg' as const],
      notes: [],
    },
  };
  const trace = traceOf({ ...recording, header });
  for (const column of [trace.indicatedAirspeedKt, trace.stallSpeedKt])
    expect(column.every((value) => value === null)).toBe(true);
  expect(trace.bankDeg.some((value) => value !== null)).toBe(true);
});

test('an estimated stall speed takes no pull from meeting the ground', () => {
  const samples = recording.samples.map(({ loadFactor: _, ...sample }): Sample => sample);
  const contact = samples.findIndex(({ onGround, timeS }) => onGround === true && timeS > 60);
  const unflared = samples.map((sample, i) =>
    i < contact && i > contact - 40
      ? { ...sample, verticalSpeedFpm: -900, heightFt: (contact - i) * 0.75, flapFraction: 0 }
      : sample,
  );
  const { stallSpeedKt } = traceOf({ ...recording, samples: unflared }, 100_000);
  // 64 kt at one g; a jump from 900 ft/min to nothing over the window would make it 80.
  for (const stall of stallSpeedKt.slice(contact - 10, contact + 20))
    expect(Math.abs((stall ?? 0) - 64)).toBeLessThan(1.5);
});
