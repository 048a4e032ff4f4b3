// Rows of the comparison in the order asked for, and by name.
import type { StudentFigures } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { named, nextOrder, ordered } from './compareOrder.js';

const spread = (median: number) => ({
  count: 3,
  lowest: median,
  lowerQuartile: median,
  median,
  upperQuartile: median,
  highest: median,
});
const student = (name: string | null, attempts: number, overall: number | null): StudentFigures => ({
  student: name,
  attempts,
  newest: '2026-03-01T10:00:00.000Z',
  figures: {
    overall: overall === null ? null : spread(overall),
    delayS: null,
    bankDeg: null,
    airspeedKt: null,
    touchdownFt: null,
    costFt: null,
  },
});
const all = [
  student(null, 1, 70),
  student('Bo Lark', 9, null),
  student('Ada Finch', 4, 90),
  student('Émile Ortolan', 2, 40),
];
const names = (rows: readonly StudentFigures[]) => rows.map((row) => row.student);

test('by name, by count and by median, either way; without a figure last', () => {
  expect(names(ordered(all, { by: 'student', downwards: false }))).toEqual([
    'Ada Finch',
    'Bo Lark',
    'Émile Ortolan',
    null,
  ]);
  expect(names(ordered(all, { by: 'attempts', downwards: true }))).toEqual([
    'Bo Lark',
    'Ada Finch',
    'Émile Ortolan',
    null,
  ]);
  expect(names(ordered(all, { by: 'overall', downwards: true }))).toEqual([
    'Ada Finch',
    null,
    'Émile Ortolan',
    'Bo Lark',
  ]);
  expect(names(ordered(all, { by: 'overall', downwards: false }))).toEqual([
    'Émile Ortolan',
    null,
    'Ada Finch',
    'Bo Lark',
  ]);
});

test('the same heading turns the order round, another begins with what is read first', () => {
  expect(nextOrder({ by: 'student', downwards: false }, 'overall')).toEqual({ by: 'overall', downwards: true });
  expect(nextOrder({ by: 'overall', downwards: true }, 'overall')).toEqual({ by: 'overall', downwards: false });
  expect(nextOrder({ by: 'overall', downwards: true }, 'delayS')).toEqual({ by: 'delayS', downwards: false });
});

test('part of a name finds it, in any case', () => {
  expect(names(named(all, ' ÉMI'))).toEqual(['Émile Ortolan']);
  expect(names(named(all, 'no name'))).toEqual([null]);
  expect(named(all, '')).toHaveLength(4);
});
