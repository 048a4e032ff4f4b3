// Comparing and exporting over HTTP: what is counted, what is left out, and that no cell becomes a formula.
import { randomUUID } from 'node:crypto';
import { AttemptList, Comparable, Comparison, Progress } from '@stillprop/contracts';
import { parse } from 'csv-parse/sync';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { z } from 'zod';
import { recordingText, testApp } from '../attempt.fixture.js';

let own: Awaited<ReturnType<typeof testApp>>;
beforeEach(async () => {
  own = await testApp();
});
afterEach(() => own.close());
const get = (url: string) => own.app.inject({ url });
const scored = () => expect.poll(() => own.store.unscored('test-1')).toEqual([]);

async function choice(): Promise<z.infer<typeof Comparable>> {
  const [first] = z.array(Comparable).parse((await get('/api/compare')).json());
  if (first === undefined) throw new Error('nothing to compare');
  return first;
}

test('with no attempt there is nothing to compare', async () => {
  expect((await get('/api/compare')).json()).toEqual([]);
});

test('students stand side by side with counts and spread, once their attempts are scored', async () => {
  for (const [student, samples] of [
    ['Ada Finch', 10],
    ['Ada Finch', 30],
    ['Ada Finch', 20],
    ['Bo Lark', 40],
  ] as const) {
    await own.send(recordingText({ attemptId: randomUUID(), student, samples }));
  }
  await scored();
  const { scenarioId, rubricId, rubricRevision, attempts } = await choice();
  expect(attempts).toBe(4);
  const query = new URLSearchParams({ scenarioId, rubricId, rubricRevision: String(rubricRevision) });
  const { students, leftOut } = Comparison.parse((await get(`/api/compare/students?${query}`)).json());
  expect(leftOut).toBe(0);
  // The scores of this scoring are the counts of samples.
  expect(students.map(({ student, attempts: count, figures }) => [student, count, figures.overall?.median])).toEqual([
    ['Ada Finch', 3, 20],
    ['Bo Lark', 1, 40],
  ]);
  const other = new URLSearchParams({ scenarioId, rubricId, rubricRevision: String(rubricRevision + 1) });
  expect((await get(`/api/compare/students?${other}`)).json()).toMatchObject({ leftOut: 4, outOf: 0, students: [] });
});

test('narrowed, ordered and paged: the page of students, the list and the export hold the same attempts', async () => {
  for (const [i, student] of ['Ada Finch', 'Bo Lark', 'Bo Lark', 'Cy Heron'].entries()) {
    const startedAt = `2026-03-0${i + 1}T10:00:00Z`;
    await own.send(recordingText({ attemptId: randomUUID(), student, samples: 10 * (i + 1), startedAt }));
  }
  await scored();
  const { attempts: _, scenarioName: __, ...rest } = await choice();
  const query = (more: Record<string, string>) =>
    new URLSearchParams({ ...rest, ...more, rubricRevision: String(rest.rubricRevision) });
  const students = async (more: Record<string, string>) =>
    Comparison.parse((await get(`/api/compare/students?${query(more)}`)).json());
  const narrow = { startedFrom: '2026-03-02T00:00:00Z', startedBefore: '2026-03-04T00:00:00Z', name: 'LARK' };
  expect(await students(narrow)).toMatchObject({ attempts: 2, outOf: 4, total: 1, students: [{ student: 'Bo Lark' }] });
  expect(AttemptList.parse((await get(`/api/attempts?${query(narrow)}`)).json()).total).toBe(2);
  expect((await get(`/api/export/scores.json?${query(narrow)}`)).json()).toHaveLength(2);
  const [outcome] = (await students({})).outcomes;
  expect(outcome?.attempts).toBe(4);
  expect((await students({ outcome: `${outcome?.outcome},stall` })).attempts).toBe(4);
  expect((await students({ outcome: 'landed-ahead' })).attempts).toBe(0);
  const page = await students({ order: 'overall', downwards: 'true', limit: '2', page: '2' });
  expect(page).toMatchObject({ total: 3, attempts: 4, students: [{ student: 'Ada Finch' }] });
  expect(page.ranges.overall).toEqual({ count: 4, lowest: 10, highest: 40 });
  const progress = Progress.parse((await get(`/api/compare/progress?${query({ student: 'Bo Lark' })}`)).json());
  expect(progress.figures.overall).toMatchObject({ measured: 2, first: [20, 30], last: [20, 30] });
  expect(progress.figures.overall.steps.map(({ median }) => median)).toEqual([20, 30]);
});

test.each([
  ['scenarioId=a&rubricId=b&rubricRevision=x', /^rubricRevision must be a whole number from 1 to 1000000, got "x"/],
  ['scenarioId=a&rubricId=b', /^rubricRevision is missing/],
  ['scenarioId=a&rubricId=b&rubricRevision=1&sort=name', /sort is not a field/],
  ['scenarioId=a&rubricId=b&rubricRevision=1&order=name', /^order must be "student" or /],
  ['scenarioId=a&rubricId=b&rubricRevision=1&limit=500', /^limit must be a whole number from 1 to 100, got "500"/],
  [
    'scenarioId=a&rubricId=b&rubricRevision=1&outcome=stall,won',
    /^outcome must be outcomes with commas between, of .*stall.*, got "stall,won"/,
  ],
  ['scenarioId=a&rubricId=b&rubricRevision=1&startedFrom=yesterday', /^startedFrom must be a time in UTC such as/],
  ['scenarioId=a&rubricId=b&rubricRevision=1&heightFromFt=-1', /^heightFromFt must be a height from 0 to 60,000 ft/],
])('%s is refused', async (query, words) => {
  const answer = await get(`/api/compare/students?${query}`);
  expect(answer.statusCode).toBe(400);
  expect(answer.json().message).toMatch(words);
});

const NASTY = [
  '=1+1',
  '+49',
  '-2+3',
  '@sum',
  '\t=1',
  '"quoted", and comma',
  'two\nlines',
  "it's",
  '<script>alert(1)</script>',
];

test('scores as comma-separated values: every text comes back as text, no cell is a formula, numbers are numbers', async () => {
  for (const student of NASTY) await own.send(recordingText({ attemptId: randomUUID(), student, samples: 12 }));
  await scored();
  const answer = await get('/api/export/scores.csv');
  expect(answer.headers).toMatchObject({
    'content-type': 'text/csv; charset=utf-8',
    'content-disposition': 'attachment; filename="stillprop-scores.csv"',
  });
  const rows = parse(answer.body, { columns: true }) as Record<string, string>[];
  expect(rows).toHaveLength(NASTY.length);
  for (const row of rows) {
    for (const cell of Object.values(row)) expect(cell).not.toMatch(/^[=+@\t\r]|^-\D/);
    expect(row.overall).toBe('12');
    expect(row.problem).toBe('');
  }
  expect(rows.map(({ student }) => student?.replace(/^'(?=[=+\-@\t])/, '')).sort()).toEqual([...NASTY].sort());
});

test('scores as JSON are the list, narrowed by student; more than one page comes whole', async () => {
  for (let i = 0; i < 3; i += 1)
    await own.send(recordingText({ attemptId: randomUUID(), student: "O'Hara; drop table" }));
  await own.send(recordingText({ attemptId: randomUUID(), student: 'Bo Lark' }));
  const all = (await get('/api/export/scores.json')).json();
  expect(all).toHaveLength(4);
  const one = (await get(`/api/export/scores.json?student=${encodeURIComponent("O'Hara; drop table")}`)).json();
  expect(one.map((row: { student: string }) => row.student)).toEqual(Array(3).fill("O'Hara; drop table"));
  expect((await get('/api/export/scores.json?student=nobody')).json()).toEqual([]);
});

test('samples of one attempt, with a column for each channel', async () => {
  const attemptId = randomUUID();
  await own.send(recordingText({ attemptId, samples: 5 }));
  const rows = parse((await get(`/api/attempts/${attemptId}/samples.csv`)).body, { columns: true }) as Record<
    string,
    string
  >[];
  expect(rows.map(({ timeS }) => Number(timeS))).toEqual([0, 1, 2, 3, 4]);
  expect(rows[0]).toMatchObject({ indicatedAirspeedKt: expect.stringMatching(/^\d/), heightFt: expect.any(String) });
  const samples = (await get(`/api/attempts/${attemptId}/samples.json`)).json() as Record<string, unknown>[];
  expect(samples).toHaveLength(rows.length);
  expect(samples[0]?.timeS).toBe(Number(rows[0]?.timeS));
  expect((await get(`/api/attempts/${randomUUID()}/samples.csv`)).statusCode).toBe(404);
  expect((await get('/api/attempts/..%2F..%2Fetc/samples.csv')).statusCode).toBe(400);
});
