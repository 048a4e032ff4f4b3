// The ledger's rows add up to the foot, in order, without a hole.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { attemptOf } from './attempt.js';
import { ledgerOf } from './ledger.js';
import { spansOf } from './phases.js';
import { shelfBundle } from './shelf.fixture.js';
import { degraded, type Schedule, syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const ledger = (schedule: Partial<Schedule>, seed = 0) => {
  const { recording, truth } = syntheticRecording(bundle, schedule);
  const attempt = attemptOf(seed === 0 ? recording : degraded(recording, seed));
  return { found: ledgerOf(attempt, spansOf(attempt.moments, attempt.flight.timeS[0] ?? 0)), truth };
};

test('rows run from the loss to the contact and sum exactly, whatever is flown', () => {
  const schedule = fc.record({
    failAtFt: fc.integer({ min: 700, max: 1500 }),
    delayS: fc.double({ min: 0.5, max: 7, noNaN: true }),
    bankDeg: fc.integer({ min: 20, max: 60 }),
    speedKt: fc.integer({ min: 75, max: 105 }),
    ahead: fc.boolean(),
    rateHz: fc.constantFrom(5, 20, 50),
  });
  fc.assert(
    fc.property(schedule, fc.nat(5), (plan, seed) => {
      const { found } = ledger(plan, seed);
      if (found === null) throw new Error('no ledger');
      const spent = found.rows.reduce((sum, row) => sum + row.heightFt, 0);
      expect(found.heightAtFailureFt + spent).toBe(found.heightAtContactFt);
      for (const [i, row] of found.rows.entries()) {
        expect(row.toS).toBeGreaterThan(row.fromS);
        if (i > 0) expect(row.fromS).toBe(found.rows[i - 1]?.toS);
      }
      expect(Math.abs(found.heightAtFailureFt - plan.failAtFt)).toBeLessThanOrEqual(3);
      expect(found.heightAtContactFt).toBe(0);
    }),
    { numRuns: 25 },
  );
});

test('a turn-back has a row for each phase, landing ahead has a glide', () => {
  expect(ledger({}).found?.rows.map(({ code }) => code)).toEqual([
    'climbed-on',
    'push',
    'turn',
    'straight',
    'align',
    'final',
    'flare',
  ]);
  const ahead = ledger({ ahead: true, alongFt: 9000 }).found?.rows;
  expect(ahead?.map(({ text }) => text)).toEqual(['Climbed on before you acted', 'Push', 'Glide ahead', 'Flare']);
});

test('energy height counts speed: the delay climbs and still loses energy', () => {
  // 92 kt to 83 kt is (92² - 83²)·(0.5144 m/s)²/(2·9.80665 m/s²) = 21.25 m = 70 ft of speed (hand calculation).
  const row = ledger({ delayS: 3 }).found?.rows[0];
  expect(row?.code).toBe('climbed-on');
  expect(row?.heightFt).toBeGreaterThan(30);
  expect(Math.abs((row?.heightFt ?? 0) - (row?.energyFt ?? 0) - 70)).toBeLessThan(7); // speed is a mean over ±0.25 s, worth 1 kt at the loss
});
