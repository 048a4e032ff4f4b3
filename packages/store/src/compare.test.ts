// Comparing 3,000 indexed attempts: narrowed, ordered and paged as counting the rows one by one gives it.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  type AttemptFilter,
  type AttemptSummary,
  COMPARED_FIGURES,
  type Comparison,
  PROGRESS_STEPS,
} from '@stillprop/contracts';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { CompareQuery } from './compare.js';
import { type AttemptStore, openStore } from './index.js';
import { BUSIEST, fillIndex } from './indexedAttempts.fixture.js';

const CHOICE = { scenarioId: 'first-turn-back', rubricId: 'standard', rubricRevision: 2, engineRevision: '7' };
const ALL = { ...CHOICE, order: 'student', downwards: false, limit: 1000, offset: 0 } as const;
let dataDir: string;
let store: AttemptStore;
let rows: AttemptSummary[];
beforeAll(async () => {
  dataDir = mkdtempSync(join(tmpdir(), 'stillprop-compare-'));
  store = await openStore({ dataDir });
  fillIndex(join(dataDir, 'stillprop.sqlite'), { attempts: 3000, students: 120, engineRevision: '7' });
  rows = [...(await store.list({ limit: 5000 })).attempts];
});
afterAll(async () => {
  await store.close();
  rmSync(dataDir, { recursive: true });
});

const compare = (some: Partial<CompareQuery> = {}) => store.compare({ ...ALL, ...some });
/** The value a share of the way through, counted up to the next whole place. */
const atShare = (values: readonly number[], share: number) =>
  [...values].sort((a, b) => a - b)[Math.max(0, Math.ceil(share * values.length) - 1)];

const byHand: [string, AttemptFilter, (row: AttemptSummary) => boolean][] = [
  ['nothing', {}, () => true],
  ['one outcome', { outcome: ['stall'] }, ({ outcome }) => outcome === 'stall'],
  [
    'one outcome or another',
    { outcome: ['landed-ahead', 'on-airfield'] },
    ({ outcome }) => outcome === 'landed-ahead' || outcome === 'on-airfield',
  ],
  [
    'two days',
    { startedFrom: '2026-01-04T00:00:00Z', startedBefore: '2026-01-06T00:00:00.000Z' },
    ({ startedAt }) => startedAt.startsWith('2026-01-04') || startedAt.startsWith('2026-01-05'),
  ],
  [
    'heights as they are shown',
    { heightFromFt: 700, heightToFt: 701 },
    ({ failureHeightFt }) => failureHeightFt !== null && [700, 701].includes(Math.round(failureHeightFt)),
  ],
  ['part of a name in other letters', { name: ' A DUN' }, ({ student }) => /a dun/i.test(student ?? '')],
  ['a name that nobody has', { name: '%' }, () => false],
  [
    'all of it together',
    { outcome: ['stopped-on-runway'], heightFromFt: 800, startedFrom: '2026-01-08T00:00:00Z', name: 'bunting' },
    ({ outcome, failureHeightFt, startedAt, student }) =>
      outcome === 'stopped-on-runway' &&
      Math.round(failureHeightFt ?? 0) >= 800 &&
      startedAt >= '2026-01-08' &&
      /bunting/i.test(student ?? ''),
  ],
];

test.each(byHand)('narrowed by %s, counts and spread are those of the rows left', async (what, filter, stays) => {
  const left = rows.filter(stays);
  if (what !== 'a name that nobody has') expect(left.length).toBeGreaterThan(0);
  const found = await compare(filter);
  expect([found.attempts, found.outOf, found.leftOut]).toEqual([left.length, 3000, 0]);
  expect((await store.list({ ...CHOICE, ...filter, limit: 1 })).total).toBe(left.length);
  const names = [...new Set(left.map(({ student }) => student ?? ''))].sort();
  expect(found.total).toBe(names.length);
  expect(found.students.map(({ student }) => student)).toEqual(names);
  for (const figure of COMPARED_FIGURES) {
    const values = (some: readonly AttemptSummary[]) => some.flatMap((row) => row[figure] ?? []);
    const everyone = values(left);
    expect(found.ranges[figure]).toEqual(
      everyone.length === 0
        ? null
        : { count: everyone.length, lowest: atShare(everyone, 0), highest: atShare(everyone, 1) },
    );
    for (const { student, attempts, figures } of found.students) {
      const own = left.filter((row) => row.student === student);
      expect(attempts).toBe(own.length);
      expect(figures[figure]?.lowerQuartile).toBe(atShare(values(own), 0.25));
      expect(figures[figure]?.upperQuartile).toBe(atShare(values(own), 0.75));
    }
  }
});

test('outcomes are counted as if none had been asked for, the most first', async () => {
  const { outcomes, attempts } = await compare({ outcome: ['stall'], name: 'ada' });
  const ada = rows.filter(({ student }) => /ada/i.test(student ?? ''));
  for (const { outcome, attempts: count } of outcomes)
    expect(count).toBe(ada.filter((row) => row.outcome === outcome).length);
  expect(outcomes.map(({ attempts: count }) => count)).toEqual(
    outcomes.map(({ attempts: count }) => count).sort((a, b) => b - a),
  );
  expect(attempts).toBe(outcomes.find(({ outcome }) => outcome === 'stall')?.attempts);
});

const keyOf = (row: Comparison['students'][number], order: CompareQuery['order']) =>
  order === 'student' || order === 'newest' || order === 'attempts' ? row[order] : (row.figures[order]?.median ?? null);

test.each([
  ['student', false],
  ['student', true],
  ['attempts', true],
  ['newest', true],
  ['overall', true],
  ['delayS', false],
  ['touchdownFt', true],
] as const)(
  'pages in order of %s (downwards: %s) join to the whole order, each student once',
  async (order, downwards) => {
    // So few are left of each that some have no touchdown at all: those stand last.
    const some = { order, downwards, ...(order === 'touchdownFt' ? { heightToFt: 640 } : {}) };
    const whole = await compare(some);
    const pages: Comparison['students'] = [];
    for (let offset = 0; offset < whole.total; offset += 25) {
      const { students } = await compare({ ...some, limit: 25, offset });
      expect(students.length).toBe(Math.min(25, whole.total - offset));
      pages.push(...students);
    }
    expect(pages).toEqual(whole.students);
    expect(new Set(pages.map(({ student }) => student)).size).toBe(whole.total);
    const keys = pages.map((row) => keyOf(row, order));
    const known = keys.filter((key) => key !== null);
    if (order === 'touchdownFt') expect(known.length).toBeLessThan(keys.length);
    expect(keys.slice(known.length).every((key) => key === null)).toBe(true);
    const sorted = [...known].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
    expect(known).toEqual(downwards ? sorted.reverse() : sorted);
  },
);

test('one student over time: equal steps, oldest first, and the first and last five as they are', async () => {
  const own = rows.filter(({ student }) => student === BUSIEST).reverse();
  const { attempts, figures } = await store.progress(CHOICE, BUSIEST);
  expect(attempts).toBe(own.length);
  expect(own.length).toBeGreaterThan(2 * PROGRESS_STEPS);
  const { steps, first, last, measured } = figures.delayS;
  expect(steps).toHaveLength(PROGRESS_STEPS);
  expect(first).toEqual(own.slice(0, 5).map(({ delayS }) => delayS));
  expect(last).toEqual(own.slice(-5).map(({ delayS }) => delayS));
  expect(measured).toBe(own.length);
  expect([steps[0]?.from, steps.at(-1)?.to]).toEqual([1, own.length]);
  for (const [i, { from, to, startedAt, lowest, median, highest }] of steps.entries()) {
    if (i > 0) expect(from).toBe((steps[i - 1]?.to ?? 0) + 1);
    const within = own.slice(from - 1, to).flatMap(({ delayS }) => delayS ?? []);
    expect([lowest, median, highest]).toEqual([Math.min(...within), atShare(within, 0.5), Math.max(...within)]);
    expect(startedAt).toBe(own[from - 1]?.startedAt);
  }
  const few = await store.progress({ ...CHOICE, startedBefore: '2026-01-01T20:00:00Z' }, BUSIEST);
  expect(few.figures.overall.steps.map(({ from, to }) => [from, to])).toEqual(
    Array.from({ length: few.attempts }, (_, i) => [i + 1, i + 1]),
  );
  expect((await store.progress(CHOICE, 'nobody')).figures.overall).toEqual({
    steps: [],
    measured: 0,
    first: [],
    last: [],
  });
});
