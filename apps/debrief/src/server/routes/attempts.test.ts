// Asking for attempts: list, detail, trace, score, download; what is not there or not right gets one sentence.
import { randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { AttemptDetail, AttemptList, Score, Trace } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { catalogue, countingScoring, recordingText, testApp } from '../attempt.fixture.js';
import { buildApp } from '../buildApp.js';

const ID = 'c9e1d2b3-6a5f-4e8d-8c7b-9a0f1e2d3c4b';
let own: Awaited<ReturnType<typeof testApp>>;
beforeEach(async () => {
  own = await testApp();
});
afterEach(() => own.close());
const get = (url: string) => own.app.inject({ url });

test('an empty list is a list', async () => {
  const answer = await get('/api/attempts');
  expect([answer.statusCode, answer.json()]).toEqual([200, { attempts: [], total: 0, next: null }]);
});

test('the list is paged by key, newest first, and narrowed by student', async () => {
  for (let day = 1; day <= 5; day += 1) {
    const student = day === 2 ? 'Tom Reed' : 'Ines Vale';
    await own.send(recordingText({ attemptId: randomUUID(), startedAt: `2026-03-0${day}T10:00:00Z`, student }));
  }
  const days: string[] = [];
  let url = '/api/attempts?limit=2';
  for (;;) {
    const page = AttemptList.parse((await get(url)).json());
    expect(page.total).toBe(5);
    days.push(...page.attempts.map((row) => row.startedAt.slice(8, 10)));
    if (page.next === null) break;
    url = `/api/attempts?limit=2&before=${encodeURIComponent(page.next)}`;
  }
  expect(days).toEqual(['05', '04', '03', '02', '01']);
  const toms = AttemptList.parse((await get('/api/attempts?student=Tom%20Reed')).json());
  expect([toms.total, toms.attempts[0]?.startedAt.slice(8, 10)]).toEqual([1, '02']);
});

test.each([
  ['limit=0', 'limit must be a whole number from 1 to 200, got "0"'],
  ['limit=', 'limit must be a whole number from 1 to 200, got ""'],
  ['limit=ten', 'limit must be a whole number from 1 to 200, got "ten"'],
  ['limit=201', 'limit must be a whole number from 1 to 200, got "201"'],
  ['before=yesterday', 'before must be the "next" of an earlier page, got "yesterday"'],
  ['offset=3', 'offset is not a field that the query has'],
])('a list asked for with %s is refused', async (query, message) => {
  const answer = await get(`/api/attempts?${query}`);
  expect([answer.statusCode, answer.json()]).toEqual([400, { code: 'BAD_REQUEST', message }]);
});

test('detail, score, trace and download of one attempt are of its recording', async () => {
  const text = recordingText({ attemptId: ID, samples: 30 });
  await own.send(text);
  const detail = AttemptDetail.parse((await get(`/api/attempts/${ID}`)).json());
  expect(detail.summary).toMatchObject({ attemptId: ID, overall: 30, samples: 30, engineRevision: 'test-1' });
  expect(detail.header.student).toBe('Ines Vale');
  expect(detail.events.map((event) => event.code)).toEqual(['armed']);
  expect(detail.end?.reason).toBe('stopped');
  expect(detail.returnMoment).toEqual({ ok: false, why: 'there are only 30 samples' });
  expect(Score.parse((await get(`/api/attempts/${ID}/score`)).json())).toEqual(detail.score);
  expect(Trace.parse((await get(`/api/attempts/${ID}/trace?maxPoints=12`)).json()).timeS.length).toBe(12);
  expect(Trace.parse((await get(`/api/attempts/${ID}/trace`)).json()).timeS.length).toBe(30);
  const download = await get(`/api/attempts/${ID}/recording`);
  expect(download.body).toBe(text);
  expect(download.headers).toMatchObject({
    'content-type': 'application/x-ndjson',
    'content-disposition': `attachment; filename="${ID}.ndjson"`,
  });
});

test('a score asked for before its turn waits for it, and is reckoned once', async () => {
  const others = Array.from({ length: 5 }, () => randomUUID());
  for (const attemptId of others) await own.send(recordingText({ attemptId }));
  await own.send(recordingText({ attemptId: ID, samples: 11 }));
  const answers = await Promise.all([1, 2, 3].map(() => get(`/api/attempts/${ID}/score`)));
  expect(answers.map((answer) => [answer.statusCode, answer.json().overall])).toEqual(Array(3).fill([200, 11]));
  await expect.poll(() => own.store.unscored('test-1')).toEqual([]);
  expect([...own.scored].sort()).toEqual([...others, ID].sort());
});

test('scores of an older engine are reckoned anew after the start, newest first, and at once for whoever reads one', async () => {
  const days = [1, 2, 3].map((day) => ({ attemptId: randomUUID(), startedAt: `2026-03-0${day}T10:00:00Z` }));
  for (const day of days) await own.send(recordingText({ ...day, samples: 4 }));
  await expect.poll(() => own.store.unscored('test-1')).toEqual([]);
  await own.app.close();
  const { scoring, scored } = countingScoring('test-2');
  const later = buildApp({ store: own.store, catalogue, scoring, log: () => undefined });
  const oldest = days[0]?.attemptId as string;
  await later.ready();
  expect((await later.inject({ url: `/api/attempts/${oldest}/score` })).json().engineRevision).toBe('test-2');
  await expect.poll(() => own.store.unscored('test-2')).toEqual([]);
  const listed = AttemptList.parse((await later.inject({ url: '/api/attempts' })).json());
  expect(listed.attempts.map((row) => row.engineRevision)).toEqual(['test-2', 'test-2', 'test-2']);
  const others = scored.filter((attemptId) => attemptId !== oldest);
  expect(others).toEqual([days[2]?.attemptId, days[1]?.attemptId]);
  expect(scored).toHaveLength(3);
  await later.close();
});

test('what was received but not scored before the last end is scored after the next start', async () => {
  await own.app.close();
  const text = recordingText({ attemptId: ID });
  const { createHash } = await import('node:crypto');
  await own.store.receive(Buffer.from(text), createHash('sha256').update(text).digest('hex'));
  const { scoring, scored } = countingScoring();
  const later = buildApp({ store: own.store, catalogue, scoring, log: () => undefined });
  await later.ready();
  await expect.poll(() => scored).toEqual([ID]);
  await later.close();
});

test.each([
  ['Nobody', 'there is no lift-off in it'],
  ['Broken', 'overall must be a number, got NaN'],
])('a recording that cannot be scored (%s) is kept and listed, and the reason is told', async (student, why) => {
  const text = recordingText({ attemptId: ID, student });
  expect((await own.send(text)).statusCode).toBe(201);
  const message = `the recording is kept, but it could not be scored: ${why}`;
  for (const url of [`/api/attempts/${ID}`, `/api/attempts/${ID}/score`]) {
    const answer = await get(url);
    expect([answer.statusCode, answer.json()]).toEqual([422, { code: 'NOT_SCORED', message }]);
  }
  expect((await get(`/api/attempts/${ID}/recording`)).body).toBe(text);
  const { attempts } = AttemptList.parse((await get('/api/attempts')).json());
  expect(attempts[0]).toMatchObject({ attemptId: ID, overall: null, outcome: null, student });
  expect(own.scored).toEqual([ID]);
  expect(own.logged).toEqual([`attempt ${ID}: ${message}`]);
});

test('a recording that cannot be drawn is told so', async () => {
  await own.send(recordingText({ attemptId: ID, student: 'Nobody' }));
  const answer = await get(`/api/attempts/${ID}/trace`);
  expect([answer.statusCode, answer.json().message]).toEqual([
    422,
    `attempt ${ID} cannot be drawn: there is no lift-off in it`,
  ]);
});

test('an attempt whose recording was deleted or damaged says so', async () => {
  await own.send(recordingText({ attemptId: ID }));
  await get(`/api/attempts/${ID}/score`);
  const path = join(own.dataDir, 'recordings', `${ID}.ndjson`);
  await writeFile(path, 'x\n');
  const damaged = await get(`/api/attempts/${ID}`);
  expect([damaged.statusCode, damaged.json().message]).toEqual([
    422,
    `the recording of attempt ${ID} is damaged: line 1 is no header of a stillprop-recording`,
  ]);
  await rm(path);
  for (const part of ['', '/trace', '/recording']) {
    const answer = await get(`/api/attempts/${ID}${part}`);
    expect([part, answer.statusCode, answer.json().code]).toEqual([part, 410, 'RECORDING_GONE']);
  }
});

test('an attempt that does not exist is not found', async () => {
  for (const part of ['', '/score', '/trace', '/recording']) {
    const answer = await get(`/api/attempts/${ID}${part}`);
    expect([answer.statusCode, answer.json()]).toEqual([
      404,
      { code: 'ATTEMPT_NOT_FOUND', message: `there is no attempt ${ID}` },
    ]);
  }
});

test.each(['..%2F..%2Fetc%2Fpasswd', '%2e%2e', 'stillprop.sqlite', `${ID}.ndjson`, `..%5C${ID}`, `${ID}%00`])(
  'the path of no file can be asked for: %s',
  async (id) => {
    await own.send(recordingText({ attemptId: ID }));
    for (const part of ['', '/score', '/trace', '/recording']) {
      const answer = await get(`/api/attempts/${id}${part}`);
      expect([part, answer.statusCode < 500 && answer.statusCode >= 400]).toEqual([part, true]);
      expect(answer.json()).toEqual({ code: expect.any(String), message: expect.any(String) });
    }
  },
);

test.each(['1', '60001', '2.5', 'many'])('a trace of %s points is refused', async (maxPoints) => {
  const answer = await get(`/api/attempts/${ID}/trace?maxPoints=${maxPoints}`);
  expect([answer.statusCode, answer.json().message]).toEqual([
    400,
    `maxPoints must be a whole number from 2 to 60000, got "${maxPoints}"`,
  ]);
});
