// What the log of an imported recording did not measure has no marks, no finding, and a sentence.
import type { Recording } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { debriefText } from './debriefText.js';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';
import { syntheticRecording } from './synthetic.fixture.js';

const { recording } = syntheticRecording(shelfBundle('first-turn-back'), { bankDeg: 70, delayS: 6, sinkFpm: 900 });
const imported = (
  unmeasured: NonNullable<Recording['header']['imported']>['unmeasured'],
  lossFrom: 'given' | 'climb-end' = 'given',
): Recording => ({
  ...recording,
  header: { ...recording.header, imported: { format: 'igc', lossFrom, unmeasured, notes: ['No airspeed.'] } },
});

test('without airspeed, bank, pitch and sink only the touchdown place is marked', () => {
  const marked = imported(['indicatedAirspeedKt', 'bankDeg', 'pitchDeg', 'verticalSpeedFpm']);
  const { criteria, findings, verdict, ledger, outcome } = scoreRecording(marked);
  expect(criteria.delay).toMatchObject({ score: null, measured: null, weight: 0 });
  expect(criteria.bank.text).toBe(
    'Not measured: the track log does not tell bank (it is only inferred from the turn).',
  );
  expect(criteria.airspeed.text).toBe(
    'Not measured: the track log does not tell airspeed (groundspeed is not airspeed).',
  );
  expect(criteria.touchdown.weight).toBe(1);
  expect(criteria.touchdown.measured).toBe(scoreRecording(recording).criteria.touchdown.measured);
  expect(criteria.touchdown.details.sinkFpm).toBeNull();
  const codes = findings.map(({ code }) => code);
  for (const code of ['stall', 'hard-contact', 'crash', 'low-turn', 'bank-at-contact'])
    expect(codes).not.toContain(code);
  expect(verdict.returnExisted).toBeNull();
  expect(ledger).toBeNull();
  expect(['stall', 'crash']).not.toContain(outcome);
});

test('a moment taken from the end of the climb gives no delay, whatever was measured', () => {
  const { criteria } = scoreRecording(imported([], 'climb-end'));
  expect(criteria.delay.text).toBe('Not measured: the track log does not tell when the power was lost.');
  expect(criteria.bank.score).not.toBeNull();
});

test('a log that measured everything scores as the recording does', () => {
  expect(scoreRecording(imported([]))).toEqual(scoreRecording(recording));
});

test('the debrief says what it was made from, and no speed that was not measured', () => {
  const marked = imported(['indicatedAirspeedKt']);
  const text = debriefText(scoreRecording(marked), marked.header);
  expect(text).toContain('Made from a track log. No airspeed.');
  expect(text).toMatch(/power lost at [\d,]+ ft\./);
});
