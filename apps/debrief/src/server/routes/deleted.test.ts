// Deleting attempts over HTTP: nothing else answers for them, a bridge still gets its receipt, and they come back whole.
import { randomUUID } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { AttemptDetail, AttemptList, DeletedList } from '@stillprop/contracts';
import { openStore } from '@stillprop/store';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { catalogue, countingScoring, recordingText, sha256, testApp } from '../attempt.fixture.js';
import { buildApp } from '../buildApp.js';

const ID = 'c9e1d2b3-6a5f-4e8d-8c7b-9a0f1e2d3c4b';
const TEXT = recordingText({ attemptId: ID, samples: 12 });
const NOTE = {
  id: '5d3b1c62-93f0-4b8e-a3a7-1f2e6c9d0b41',
  atS: 2.4,
  author: 'pilot',
  name: null,
  text: 'Too slow.',
  writtenAt: '2026-03-01T10:12:00Z',
};
let own: Awaited<ReturnType<typeof testApp>>;
beforeEach(async () => {
  own = await testApp();
  await own.send(TEXT);
});
afterEach(() => own.close());

const get = (url: string) => own.app.inject({ url });
const remove = (id = ID, headers = {}) => own.app.inject({ method: 'DELETE', url: `/api/attempts/${id}`, headers });
const restore = (id = ID, headers = {}) =>
  own.app.inject({ method: 'POST', url: `/api/deleted/${id}/restore`, headers });
const total = async () => AttemptList.parse((await get('/api/attempts')).json()).total;
const deleted = async () => DeletedList.parse((await get('/api/deleted')).json()).deleted;

test('a deleted attempt is listed among the deleted alone, and comes back with all it had', async () => {
  await own.app.inject({ method: 'POST', url: `/api/attempts/${ID}/notes`, payload: NOTE });
  const before = AttemptDetail.parse((await get(`/api/attempts/${ID}`)).json());
  const answer = await remove();
  expect([answer.statusCode, answer.json()]).toEqual([200, { attemptId: ID, deletedAt: expect.any(String) }]);
  expect([await total(), (await get('/api/export/scores.json')).json(), (await get('/api/compare')).json()]).toEqual([
    0,
    [],
    [],
  ]);
  expect(await deleted()).toEqual([{ ...before.summary, deletedAt: answer.json().deletedAt }]);
  expect((await remove()).json()).toEqual(answer.json());

  const back = await restore();
  expect([back.statusCode, back.json()]).toEqual([200, { attemptId: ID }]);
  expect((await restore()).statusCode).toBe(200);
  expect((await get(`/api/attempts/${ID}`)).json()).toEqual(before);
  expect((await get(`/api/attempts/${ID}/recording`)).body).toBe(TEXT);
  expect((await get(`/api/attempts/${ID}/notes`)).json()).toEqual({ notes: [NOTE] });
  expect([await total(), await deleted(), own.scored]).toEqual([1, [], [ID]]);
});

test('whoever asks for a deleted attempt is told so', async () => {
  await remove();
  for (const part of ['', '/score', '/trace', '/recording', '/samples.csv', '/notes']) {
    const answer = await get(`/api/attempts/${ID}${part}`);
    expect([part, answer.statusCode, answer.json()]).toEqual([
      part,
      410,
      { code: 'ATTEMPT_DELETED', message: `attempt ${ID} was deleted; it can be restored under Debrief, Deleted` },
    ]);
  }
});

test('a bridge that sends a deleted attempt again gets its receipt, and it stays deleted', async () => {
  await remove();
  const answer = await own.send(TEXT);
  expect([answer.statusCode, answer.json()]).toEqual([200, { attemptId: ID, sha256: sha256(TEXT), already: true }]);
  expect([await total(), (await deleted()).length]).toEqual([0, 1]);
});

test('what is restored after a new engine came is scored by it', async () => {
  await get(`/api/attempts/${ID}/score`);
  await remove();
  await own.app.close();
  const { scoring, scored } = countingScoring('test-2');
  const later = buildApp({ store: own.store, catalogue, scoring, log: () => undefined });
  await later.ready();
  await later.inject({ method: 'POST', url: `/api/deleted/${ID}/restore` });
  await expect.poll(() => own.store.unscored('test-2')).toEqual([]);
  expect(scored).toEqual([ID]);
  await later.close();
});

test('an attempt that is not there is neither deleted nor restored', async () => {
  const other = randomUUID();
  for (const answer of [await remove(other), await restore(other), await restore(randomUUID())]) {
    expect([answer.statusCode, answer.json().code]).toEqual([404, 'ATTEMPT_NOT_FOUND']);
  }
  for (const answer of [await remove('nonsense'), await restore('..%2F..%2Fetc')]) {
    expect([answer.statusCode, answer.json()]).toEqual([
      400,
      { code: 'BAD_REQUEST', message: expect.stringMatching(/^id must be a UUID/) },
    ]);
  }
  expect(await total()).toBe(1);
});

test('a recording that somebody removed is said to be gone', async () => {
  await rm(join(own.dataDir, 'recordings', `${ID}.ndjson`));
  const answer = await remove();
  expect([answer.statusCode, answer.json().code]).toEqual([410, 'RECORDING_GONE']);
});

test('a page elsewhere can neither delete nor restore', async () => {
  const elsewhere = { host: 'localhost:80', origin: 'http://example.org' };
  for (const answer of [await remove(ID, elsewhere), await restore(ID, elsewhere)]) {
    expect([answer.statusCode, answer.json().code]).toEqual([403, 'FORBIDDEN_ORIGIN']);
  }
  expect(await total()).toBe(1);
});

test('deleted attempts are there days and starts later', async () => {
  await remove();
  await own.app.close();
  await own.store.close();
  const store = await openStore({ dataDir: own.dataDir });
  const { scoring } = countingScoring();
  const later = buildApp({ store, catalogue, scoring, log: () => undefined });
  expect((await later.inject({ url: '/api/deleted' })).json().deleted).toHaveLength(1);
  expect((await later.inject({ method: 'POST', url: `/api/deleted/${ID}/restore` })).statusCode).toBe(200);
  expect((await later.inject({ url: `/api/attempts/${ID}/recording` })).body).toBe(TEXT);
  await later.close();
  await store.close();
});
