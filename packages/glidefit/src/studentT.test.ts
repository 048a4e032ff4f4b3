import { expect, test } from 'vitest';
import { studentT95 } from './studentT.js';

// Tables of Student's t at 97.5 %, as printed in any statistics text.
test.each([
  [4, 2.776],
  [5, 2.571],
  [10, 2.228],
  [30, 2.042],
  [120, 1.98],
])('with %i degrees of freedom the printed table has %f', (freedom, printed) => {
  expect(Math.abs(studentT95(freedom) / printed - 1)).toBeLessThan(0.003);
});

test.each([Number.NaN, 3])('refuses %s degrees of freedom', (freedom) => {
  expect(() => studentT95(freedom)).toThrow(RangeError);
});
