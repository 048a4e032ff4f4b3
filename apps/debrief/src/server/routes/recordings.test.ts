// Receiving recordings: safe before acknowledged, once per attempt, and a plain sentence for whatever is not right.
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Receipt } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { recordingText, sha256, testApp } from '../attempt.fixture.js';

const ID = '5b2f9a46-3d1c-4c57-9a4e-1f0e8d7c6b5a';
let own: Awaited<ReturnType<typeof testApp>>;
beforeEach(async () => {
  own = await testApp({ maxRecordingBytes: 2 ** 20 });
});
afterEach(() => own.close());

test('a recording is on disk when its receipt is given, and again gives the same receipt', async () => {
  const text = recordingText({ attemptId: ID });
  const first = await own.send(text);
  expect(first.statusCode).toBe(201);
  expect(Receipt.parse(first.json())).toEqual({ attemptId: ID, sha256: sha256(text), already: false });
  expect(await readFile(join(own.dataDir, 'recordings', `${ID}.ndjson`), 'utf8')).toBe(text);
  const second = await own.send(text, sha256(text).toUpperCase());
  expect(second.statusCode).toBe(200);
  expect(second.json()).toEqual({ attemptId: ID, sha256: sha256(text), already: true });
  expect((await own.store.list({ limit: 10 })).total).toBe(1);
});

test('it is scored by itself after the receipt, once', async () => {
  await own.send(recordingText({ attemptId: ID, samples: 42 }));
  await own.send(recordingText({ attemptId: ID, samples: 42 }));
  await expect.poll(async () => (await own.store.get(ID))?.row.overall).toBe(42);
  expect(own.scored).toEqual([ID]);
});

test('a recording that broke off is taken, then replaced by the whole one and scored anew', async () => {
  expect((await own.send(recordingText({ attemptId: ID, samples: 3, end: 'interrupted' }))).statusCode).toBe(201);
  await expect.poll(async () => (await own.store.get(ID))?.row.overall).toBe(3);
  expect((await own.send(recordingText({ attemptId: ID, samples: 8 }))).statusCode).toBe(201);
  await expect.poll(async () => (await own.store.get(ID))?.row.overall).toBe(8);
});

test('another recording under the same id is a conflict, and the first stays', async () => {
  await own.send(recordingText({ attemptId: ID }));
  const answer = await own.send(recordingText({ attemptId: ID, samples: 6 }));
  expect(answer.statusCode).toBe(409);
  expect(answer.json()).toEqual({
    code: 'RECORDING_CONFLICT',
    message: `attempt ${ID} is kept already with other contents, and those stay: a new attempt must have a new id`,
  });
  expect((await own.store.get(ID))?.row.samples).toBe(5);
});

test('a wrong, malformed or missing hash is refused and nothing is kept', async () => {
  const text = recordingText({ attemptId: ID });
  const wrong = await own.send(text, '0'.repeat(64));
  expect([wrong.statusCode, wrong.json().code]).toEqual([400, 'RECORDING_REFUSED']);
  expect(wrong.json().message).toContain(sha256(text));
  const malformed = await own.send(text, 'abc');
  expect([malformed.statusCode, malformed.json()]).toEqual([
    400,
    { code: 'BAD_REQUEST', message: 'x-content-sha256 must be the SHA-256 of the body: 64 hex digits, got "abc"' },
  ]);
  const headers = { 'content-type': 'application/x-ndjson' };
  const missing = await own.app.inject({ method: 'POST', url: '/api/recordings', headers, payload: text });
  expect([missing.statusCode, missing.json().message]).toEqual([
    400,
    'x-content-sha256 is missing: it must be the SHA-256 of the body in hex',
  ]);
  expect((await own.store.list({ limit: 1 })).total).toBe(0);
});

test.each([
  ['an empty body', '', 'the recording holds no whole line'],
  ['no recording', 'hello\n', 'line 1 is no header of a stillprop-recording'],
  [
    'an attempt id that is a path',
    recordingText({ attemptId: '../../x' }),
    'line 1: attemptId must be a UUID, got "../../x"',
  ],
  [
    'an impossible sample',
    recordingText({ attemptId: ID }).replace('"bankDeg":0', '"bankDeg":720'),
    'line 3: bankDeg must be -180 to 180 degrees, got 720',
  ],
])('%s is refused with one sentence', async (_, text, message) => {
  const answer = await own.send(text);
  expect([answer.statusCode, answer.json()]).toEqual([400, { code: 'RECORDING_REFUSED', message }]);
  expect((await own.store.list({ limit: 1 })).total).toBe(0);
});

test('a body over the limit is refused with the limit', async () => {
  const answer = await own.send(Buffer.alloc(2 ** 20 + 1, 10));
  expect([answer.statusCode, answer.json()]).toEqual([
    413,
    { code: 'TOO_LARGE', message: 'the body must be at most 1 MiB' },
  ]);
});

test.each([
  ['text/plain', 415, 'Content-Type must be application/json, or application/x-ndjson for a recording'],
  ['application/json', 400, 'the body must be a recording sent as application/x-ndjson, got {"kind":"header"}'],
])('a body sent as %s is refused', async (type, status, message) => {
  const payload = '{"kind":"header"}';
  const headers = { 'content-type': type, 'x-content-sha256': sha256(payload) };
  const answer = await own.app.inject({ method: 'POST', url: '/api/recordings', headers, payload });
  expect([answer.statusCode, answer.json().message]).toEqual([status, message]);
});

test('when the disk refuses, no receipt is given, the log says why, and sending it again works', async () => {
  const text = recordingText({ attemptId: ID });
  await rm(join(own.dataDir, 'recordings'), { recursive: true });
  const answer = await own.send(text);
  expect([answer.statusCode, answer.json()]).toEqual([
    500,
    { code: 'SERVER_FAULT', message: 'the server failed on this request; its log says why' },
  ]);
  expect(own.logged.join('\n')).toContain('ENOENT');
  expect(answer.body).not.toContain(own.dataDir);
});

test.each([
  ['for the file', 'ENOSPC'],
  ['by quota', 'EDQUOT'],
  ['for the index, the file being kept', 'SQLITE_FULL'],
])('a full disk (%s) is told as such, claiming no more than that it was not taken in', async (_, code) => {
  const full = {
    ...own.store,
    receive: async () => Promise.reject(Object.assign(new Error('write'), { code })),
  };
  const other = await testApp({ store: full });
  const answer = await other.send(recordingText({ attemptId: ID }));
  expect([answer.statusCode, answer.json()]).toEqual([
    507,
    {
      code: 'DISK_FULL',
      message: 'the disk of the data folder is full, so this was not taken in: make room and send it again',
    },
  ]);
  await other.app.close();
});
