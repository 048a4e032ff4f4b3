// Addresses of the page Compare: what is written is read again, and what cannot be read narrows nothing.
import { FlownOutcome, STUDENT_ORDERS } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { comparePath, compareRoute, NOT_NARROWED } from './compareRoute.js';
import { routeOf } from './routes.js';

const at = (path: string) => routeOf(new URL(path, 'http://127.0.0.1'));
const PLAIN = {
  scenarioId: null,
  rubricId: null,
  rubricRevision: null,
  student: null,
  attemptIds: [],
  ticked: [],
  filter: NOT_NARROWED,
  order: 'student',
  downwards: false,
  page: 1,
  before: null,
} as const;

test('the bare page narrows nothing', () => {
  expect(at('/compare')).toEqual({ page: 'compare', choice: PLAIN });
  expect(comparePath(PLAIN)).toBe('/compare');
});

test.each([
  'revision=x',
  'revision=0',
  'from=2026-02-30',
  'to=yesterday',
  'above=-1',
  'below=',
  'above=1e9',
  'outcome=won',
  'order=name',
  'page=0',
  'page=1.5',
  'down=2',
])('%s is passed over', (query) => {
  expect(compareRoute(query)).toEqual(PLAIN);
});

test('more ticked than can be told apart are cut', () => {
  const query = new URLSearchParams(Array.from({ length: 12 }, (_, i) => ['tick', `id-${i}`]));
  expect(compareRoute(String(query)).ticked).toHaveLength(8);
});

test('the path of a comparison leads back to it, whatever names hold', () => {
  const text = fc.string({ minLength: 1, maxLength: 100 });
  const day = fc
    .date({ min: new Date('2000-01-01'), max: new Date('2099-12-31'), noInvalidDate: true })
    .map((date) => date.toISOString().slice(0, 10));
  const height = fc.option(fc.integer({ min: 0, max: 60_000 }));
  const choice = fc.record({
    scenarioId: fc.option(text),
    rubricId: fc.option(text),
    rubricRevision: fc.option(fc.integer({ min: 1, max: 999 })),
    student: fc.option(text),
    attemptIds: fc.array(text, { maxLength: 8 }),
    ticked: fc.array(text, { maxLength: 8 }),
    filter: fc.record({
      outcomes: fc.subarray(FlownOutcome.options),
      fromDay: fc.option(day),
      toDay: fc.option(day),
      heightFromFt: height,
      heightToFt: height,
      name: fc.string({ maxLength: 100 }),
    }),
    order: fc.constantFrom(...STUDENT_ORDERS),
    downwards: fc.boolean(),
    page: fc.integer({ min: 1, max: 1000 }),
    before: fc.option(text),
  });
  fc.assert(
    fc.property(choice, (wanted) => {
      expect(at(comparePath(wanted))).toEqual({ page: 'compare', choice: wanted });
    }),
  );
});
