// The rows of a difference: signs, units, what is missing, and costs that were none.
import type { Score } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { differenceRows } from './compareDifference.js';

const criterion = (measured: number | null) => ({ measured }) as Score['criteria']['delay'];
const score = (delayS: number | null, costs: Score['costs'], overall: number | null = 80): Score =>
  ({
    overall,
    failure: { heightFt: 1000 },
    verdict: { neededFt: null },
    criteria: { delay: criterion(delayS), bank: criterion(45), airspeed: criterion(85), touchdown: criterion(-20) },
    costs,
  }) as unknown as Score;
const costs = (totalFt: number | null, rows: NonNullable<Score['costs']>['rows'] = []): Score['costs'] => ({
  text: '',
  neededAskedFt: 800,
  neededFlownFt: null,
  totalFt,
  rows,
});

test('second less first, with sign and unit', () => {
  const rows = differenceRows(
    score(2.8, costs(-4, [{ code: 'delay', text: '', costFt: -4 }])),
    score(6.04, costs(49, [{ code: 'delay', text: '', costFt: 49 }]), 67),
  );
  const row = (name: string) => rows.find((each) => each.name === name);
  expect(row('Delay')).toEqual({ name: 'Delay', a: '2.8\u00a0s', b: '6.0\u00a0s', difference: '+3.2\u00a0s' });
  expect(row('Score')).toEqual({ name: 'Score', a: '80', b: '67', difference: '−13' });
  expect(row('Delay cost')?.difference).toBe('+53\u00a0ft');
  expect(row('Bank cost')).toBeUndefined();
  expect(row('Touchdown beyond the aim point')?.a).toBe('−20\u00a0ft');
});

test('what one of them does not know has no difference, and is never zero', () => {
  const rows = differenceRows(score(null, null), score(3, costs(null)));
  expect(rows.find(({ name }) => name === 'Delay')).toMatchObject({ a: 'not measured', difference: '' });
  expect(rows.find(({ name }) => name === 'Deviations cost in all')).toMatchObject({
    a: 'not measured',
    b: 'not measured',
    difference: '',
  });
  expect(rows.find(({ name }) => name === 'Height a return needed')?.a).toBe('not measured');
});
