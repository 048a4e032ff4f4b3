// Paths that climb out of a folder, in every disguise, at every route with an id or a file name: none leads anywhere.
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { recordingText } from '../attempt.fixture.js';
import { type Attacked, attackedApp } from './listening.fixture.js';

const SECRET = 'nobody may read this';
let own: Attacked;
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'stillprop-paths-'));
  const webDir = join(folder, 'web');
  await mkdir(join(webDir, 'assets'), { recursive: true });
  await writeFile(join(webDir, 'index.html'), '<!doctype html><title>Pages</title>');
  await writeFile(join(folder, 'secret.json'), SECRET);
  await writeFile(join(folder, 'secret'), SECRET);
  own = await attackedApp({ webDir });
  await writeFile(join(own.dataDir, 'secret.ndjson'), SECRET);
});
afterAll(async () => {
  await own.close();
  await rm(folder, { recursive: true });
});

const STEPS = [
  '../',
  '..%2f',
  '%2e%2e/',
  '%2e%2e%2f',
  '..%252f',
  '%252e%252e%252f',
  '..\\',
  '..%5c',
  '..%255c',
  '....//',
  '..;/',
  '%c0%ae%c0%ae/',
  '%uff0e%uff0e/',
  './../',
];
const NAMES = ['secret', 'secret.json', 'secret%00', 'secret%00.html', 'secret.ndjson', 'etc/passwd', 'etc%2fpasswd'];
const CLIMBS = STEPS.flatMap((step) => [1, 12].flatMap((times) => NAMES.map((name) => step.repeat(times) + name)));
const ROUTES = ['/', '/assets/', '/debrief/', '/api/attempts/', '/api/scenarios/', '/api/stations/'];

/** As it is on the wire: a client would straighten the path itself. */
const ask = (method: string, path: string, rest = '') =>
  own.raw(`${method} ${path} HTTP/1.1\r\n${own.host}Connection: close\r\n${rest}\r\n`);

test.each(ROUTES)('behind %s', async (route) => {
  for (const climb of CLIMBS) {
    const { status, body } = await ask('GET', route + climb);
    expect(status === 200 ? `${climb} gives ${body}` : status).toSatisfy(
      // A page of ours may take any one name for an id; the document is the same for all.
      (told) =>
        (typeof told === 'number' && told >= 400 && told < 500) || String(told).endsWith('<title>Pages</title>'),
    );
    expect(body).not.toContain(SECRET);
    expect(body).not.toContain('root:');
    expect(body).not.toContain(folder);
  }
});

test.each(['/score', '/trace', '/recording', '/samples.csv'])('as the id of an attempt before %s', async (part) => {
  for (const climb of CLIMBS) {
    const { status, body } = await ask('GET', `/api/attempts/${climb}${part}`);
    expect([climb, status >= 400 && status < 500]).toEqual([climb, true]);
    expect(body).not.toContain(SECRET);
  }
});

test('as the id in a recording, which names its file', async () => {
  for (const attemptId of ['../secret', '..\\secret', 'secret\0', '..%2fsecret', '/etc/passwd', '.', '']) {
    const answer = await own.send(recordingText({ attemptId }));
    expect([answer.statusCode, answer.json().message]).toEqual([
      400,
      expect.stringMatching(/^line 1: attemptId must be a UUID/),
    ]);
  }
});

test('as the name of a link or scenario in a command', async () => {
  for (const name of ['../x', '..%2fx', 'x\0', 'x/y', '..\\x', '.hidden', '/x', '']) {
    for (const payload of [
      { command: 'read-link', linkId: name },
      { command: 'arm', scenarioId: name, linkId: 'x' },
      { command: 'arm', scenarioId: 'first-turn-back', linkId: name },
    ]) {
      const answer = await own.app.inject({ method: 'POST', url: '/api/stations/desk/commands', payload });
      expect([name, answer.statusCode, answer.json().code]).toEqual([name, 400, 'BAD_REQUEST']);
    }
  }
});
