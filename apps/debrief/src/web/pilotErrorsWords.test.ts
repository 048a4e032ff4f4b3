// What is told of a spread: shares that never claim more certainty than there is, outcomes, and what was drawn.
import { FlyRequest } from '@stillprop/contracts';
import { OUTCOMES, type Outcome, type SpreadCounts, spreadWork } from '@stillprop/physics';
import { expect, test } from 'vitest';
import reference from '../../../../fixtures/requests/reference-1000ft.json' with { type: 'json' };
import { type Moment, PILOT_ERRORS, pilotErrorsWork } from './pilotErrors.js';
import { drawnWords, intervalWords, outcomeRows, percentWords, resultWords } from './pilotErrorsWords.js';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const request = FlyRequest.parse(reference);
const start = {
  alongFt: 6000,
  acrossFt: 0,
  heightFt: 1000,
  ktas: 93,
  headingTrueDeg: request.runway.headingTrueDeg,
  verticalSpeedFpm: 1200,
  bankDeg: 0,
};
const moment: Moment = { timeS: 60, request, start };
const counted = (by: { [outcome in Outcome]?: number }): SpreadCounts => {
  const row = OUTCOMES.map((outcome) => by[outcome] ?? 0);
  return { heightsFt: [1000], draws: row.reduce((sum, count) => sum + count, 0), flights: 0, byHeight: [row] };
};

test.each([
  [0, 10_000, '0.0 %'],
  [1, 10_000, '0.1 %'],
  [6622, 10_000, '66.2 %'],
  [9999, 10_000, '99.9 %'],
  [10_000, 10_000, '100.0 %'],
])('%i of %i is %s', (count, of, words) => {
  expect(plain(percentWords({ count, of, share: count / of }))).toBe(words);
});

test('an interval is rounded outwards, and only where there is something to round', () => {
  expect(plain(intervalWords({ low: 0.65271, high: 0.67119 }))).toBe('65.2 % to 67.2 %');
  expect(plain(intervalWords({ low: 0.657, high: 1 }))).toBe('65.7 % to 100.0 %');
  expect(plain(intervalWords({ low: 0, high: 0.00001 }))).toBe('0.0 % to 0.1 %');
});

test('the answer tells the runway and the airfield, the runway counted, with their intervals', () => {
  const counts = counted({ 'stopped-on-runway': 6000, overrun: 500, 'on-airfield': 2500, 'off-airfield': 1000 });
  // Wilson intervals of 6,000 and 9,000 of 10,000 by a hand calculator.
  expect(plain(resultWords(counts, moment).runway)).toBe(
    '60.0 % of 10,000 flights come back and stop on the runway (95 % interval 59.0 % to 61.0 %). Not to be counted on: that would take 95 in 100 at the low end.',
  );
  expect(plain(resultWords(counts, moment).airfield)).toBe(
    '90.0 % come down on the airfield, the runway counted (89.3 % to 90.6 %).',
  );
});

test('a return is not to be counted on where the interval reaches below 95 in 100', () => {
  const said = (stopped: number) =>
    resultWords(counted({ 'stopped-on-runway': stopped, 'off-airfield': 10_000 - stopped }), moment).runway;
  expect(said(9530)).toContain('Not to be counted on');
  expect(said(9560)).not.toContain('counted on');
});

test('a touchdown with bank on is no coming down on the airfield', () => {
  const counts = counted({ 'wing-low-contact': 50, stall: 50 });
  expect(plain(resultWords(counts, moment).airfield)).toMatch(/^0\.0 % come down/);
});

test('outcomes that did not occur take no row', () => {
  const rows = outcomeRows(counted({ 'stopped-on-runway': 1500, 'off-airfield': 500 }));
  expect(rows.map(({ name, flights, share }) => [name, flights, plain(share)])).toEqual([
    ['Stopped on the runway', '1,500', '75.0 %'],
    ['Touched down outside the airfield', '500', '25.0 %'],
  ]);
});

test('what is drawn stands with the figures of the technique', () => {
  const words = drawnWords({
    ...moment,
    request: { ...request, technique: { ...request.technique, delayS: 3, bankDeg: 45, targetKcas: 85 } },
  }).map(plain);
  expect(words[0]).toBe('Delay: lognormal, median 3.0 s as the technique has it; two of three within 2.1 s to 4.3 s.');
  expect(words[1]).toBe('Bank: normal about 45°, standard deviation 3°.');
  expect(words[2]).toBe('Speed: normal about 85 kt calibrated, standard deviation 5 kt.');
});

test('the flights are those of physics from the recorded state, in the wind there was, in this very aeroplane', () => {
  const work = pilotErrorsWork(moment);
  expect(work).toEqual(spreadWork(request, { start, draws: 10_000, seed: 1, errors: PILOT_ERRORS }));
  expect(work.errors).toMatchObject({ windSdKt: 0, windSdShare: 0, glideLogSd: 0, turbulenceAt20FtKt: 0 });
  expect(work.errors.delayLogSd * work.errors.bankSdDeg * work.errors.speedSdKt).toBeGreaterThan(0);
});
