// What a click on a column's head makes of the order of students.
import { expect, test } from 'vitest';
import { nextOrder } from './compareOrder.js';

test('a column begins with what is looked for in it, and turns round when clicked again', () => {
  const byName = { order: 'student', downwards: false } as const;
  expect(nextOrder(byName, 'overall')).toEqual({ order: 'overall', downwards: true });
  expect(nextOrder(byName, 'attempts')).toEqual({ order: 'attempts', downwards: true });
  expect(nextOrder(byName, 'delayS')).toEqual({ order: 'delayS', downwards: false });
  expect(nextOrder({ order: 'delayS', downwards: false }, 'delayS')).toEqual({ order: 'delayS', downwards: true });
  expect(nextOrder(byName, 'student')).toEqual({ order: 'student', downwards: true });
});
