// Text that spreadsheets take for formulas, in every text column of every export at once: none gets out as one.
import { randomUUID } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { recordingText, testApp } from '../attempt.fixture.js';

let own: Awaited<ReturnType<typeof testApp>>;
beforeEach(async () => {
  own = await testApp();
});
afterEach(() => own.close());

const FORMULAS = [
  '=1+1',
  '+1',
  '-2+3',
  '@a',
  '\t=1',
  '\r=1',
  '\n=1',
  ' =1',
  '"=1',
  '","=1',
  '\uff1d1+1',
  '\uff0b1',
  '\uff0d2',
  '\uff20a',
];
/** Columns that a recording's own text can reach. */
const REACHED = ['student', 'station', 'scenarioName', 'aircraftName', 'runwayName'];

function poisoned(text: string): string {
  const [header, ...rest] = recordingText({ attemptId: randomUUID(), student: text }).split('\n');
  const parsed = JSON.parse(header as string);
  parsed.station = text;
  for (const part of ['scenario', 'aircraft', 'runway', 'rubric', 'weather'])
    if ('name' in parsed[part]) parsed[part].name = text;
  return [JSON.stringify(parsed), ...rest].join('\n');
}

test('every text column of the scores', async () => {
  for (const text of FORMULAS) expect((await own.send(poisoned(text))).statusCode).toBe(201);
  await expect.poll(() => own.store.unscored('test-1')).toEqual([]);
  const { body } = await own.app.inject({ url: '/api/export/scores.csv' });
  const rows = parse(body, { columns: true }) as Record<string, string>[];
  expect(rows).toHaveLength(FORMULAS.length);
  for (const column of REACHED) {
    expect(rows.map((row) => row[column]).sort(), column).toEqual(FORMULAS.map((text) => `'${text}`).sort());
  }
  for (const cell of rows.flatMap((row) => Object.values(row)))
    expect(cell).not.toMatch(/^[\s"]*[=+@\uff1d\uff0b\uff0d\uff20]/);
});

test('figures below zero stay figures', async () => {
  const attemptId = randomUUID();
  const text = recordingText({ attemptId }).replaceAll('"bankDeg":0', '"bankDeg":-12.5');
  expect((await own.send(text)).statusCode).toBe(201);
  const { body } = await own.app.inject({ url: `/api/attempts/${attemptId}/samples.csv` });
  const rows = parse(body, { columns: true }) as Record<string, string>[];
  expect(rows.map(({ bankDeg }) => bankDeg)).toEqual(Array(5).fill('-12.5'));
});
