// The whole server: refuses to be reached from elsewhere, keeps attempts over a restart, tells what is in its way.
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AttemptDetail, AttemptList, Receipt } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { startDebrief } from '../index.js';
import { recordingText, SHELF, sha256 } from './attempt.fixture.js';
import type { DebriefOptions } from './startDebrief.js';

const ID = '7a6b5c4d-3e2f-4a1b-8c9d-0e1f2a3b4c5d';
let folder: string;
let options: DebriefOptions;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'stillprop-debrief-'));
  options = { port: 0, dataDir: join(folder, 'data'), catalogueDirs: [SHELF], log: () => undefined };
});
afterEach(() => rm(folder, { recursive: true }));

const send = async (url: string, text: string) => {
  const headers = { 'content-type': 'application/x-ndjson', 'x-content-sha256': sha256(text) };
  const answer = await fetch(`${url}/api/recordings`, { method: 'POST', headers, body: text });
  return Receipt.parse(await answer.json());
};

test.each(['192.168.1.5', 'example.org', '', '127.0.0.1.example.org'])('listening on %j is refused', async (host) => {
  await expect(startDebrief({ ...options, host })).rejects.toThrow(
    `host must be 127.0.0.1, ::1 or localhost, or 0.0.0.0 or :: for bridges on other computers, got "${host}"`,
  );
  expect(await readdir(folder)).toEqual([]);
});

test('listening for bridges on other computers, its pages are asked for at the own address', async () => {
  const server = await startDebrief({ ...options, host: '0.0.0.0' });
  expect(server.url).toBe(`http://127.0.0.1:${server.port}`);
  expect((await fetch(`${server.url}/api/health`)).status).toBe(200);
  await server.close();
});

test('an attempt received before a restart is there once afterwards, and is scored by the real engine', async () => {
  const text = recordingText({ attemptId: ID });
  const first = await startDebrief(options);
  expect(first.url).toBe(`http://127.0.0.1:${first.port}`);
  expect(await send(first.url, text)).toEqual({ attemptId: ID, sha256: sha256(text), already: false });
  await first.close();
  await expect(fetch(`${first.url}/api/health`)).rejects.toThrow('fetch failed');
  const second = await startDebrief({ ...options, host: 'localhost' });
  expect((await send(second.url, text)).already).toBe(true);
  const list = AttemptList.parse(await (await fetch(`${second.url}/api/attempts`)).json());
  expect([list.total, list.attempts[0]?.attemptId]).toEqual([1, ID]);
  const detail = AttemptDetail.parse(await (await fetch(`${second.url}/api/attempts/${ID}`)).json());
  const health = (await (await fetch(`${second.url}/api/health`)).json()) as { engineRevision: string };
  expect(detail.summary.engineRevision).toBe(health.engineRevision);
  expect(detail.summary.samples).toBe(5);
  await second.close();
});

test('a recording of more than an hour at 100 samples a second is taken; a smaller limit can be stated', async () => {
  const text = recordingText({ attemptId: ID });
  const post = (url: string, body: string) => {
    const headers = { 'content-type': 'application/x-ndjson', 'x-content-sha256': sha256(body) };
    return fetch(`${url}/api/recordings`, { method: 'POST', headers, body });
  };
  const small = await startDebrief({ ...options, maxRecordingBytes: 1024 });
  expect((await post(small.url, text)).status).toBe(413);
  await small.close();
  const usual = await startDebrief(options);
  // 370 bytes a sample, 100 of them a second, an hour long: as blank lines, which say nothing and are quickly read.
  const long = text + `${' '.repeat(369_999)}\n`.repeat(360);
  expect((await post(usual.url, long)).status).toBe(201);
  await usual.close();
});

test('a port in use is told, and the data folder is let go', async () => {
  const other = createServer().listen(0, '127.0.0.1');
  await new Promise((resolve) => other.once('listening', resolve));
  const { port } = other.address() as { port: number };
  await expect(startDebrief({ ...options, port })).rejects.toThrow(
    `port ${port} on 127.0.0.1 is in use by another program: end that, or choose another port`,
  );
  other.close();
  await (await startDebrief({ ...options, port })).close();
});

test('a catalogue or data folder that cannot be used is told before anything listens', async () => {
  await expect(startDebrief({ ...options, catalogueDirs: [join(folder, 'no')] })).rejects.toThrow(
    'The catalogue folder',
  );
  await expect(startDebrief({ ...options, dataDir: join(SHELF, 'README.md') })).rejects.toThrow('The data folder');
  await expect(startDebrief({ ...options, webDir: folder })).rejects.toThrow('The pages are not built');
  expect(await readdir(folder)).toEqual(['data']);
});
