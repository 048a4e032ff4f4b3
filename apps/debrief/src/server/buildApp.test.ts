// The app as a whole: who may ask, what every answer carries, scenarios, pages, the API document.
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ScenarioBundle, ScenarioChoice } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { z } from 'zod';
import { testApp } from './attempt.fixture.js';

let own: Awaited<ReturnType<typeof testApp>>;
let webDir: string;
beforeEach(async () => {
  webDir = await mkdtemp(join(tmpdir(), 'stillprop-pages-'));
  await mkdir(join(webDir, 'assets'));
  await writeFile(join(webDir, 'index.html'), '<!doctype html><title>Pages</title>');
  await writeFile(join(webDir, 'assets', 'main-a1b2c3.js'), 'export {};');
  await writeFile(join(webDir, '.hidden'), 'hidden');
  await writeFile(join(webDir, '..', `${webDir.split('/').at(-1)}-secret.txt`), 'secret');
  own = await testApp({ webDir });
});
afterEach(async () => {
  await own.close();
  await rm(webDir, { recursive: true });
  await rm(`${webDir}-secret.txt`);
});
const get = (url: string, headers: Record<string, string> = {}) => own.app.inject({ url, headers });

test('health tells the engine revision', async () => {
  expect((await get('/api/health')).json()).toEqual({ status: 'ok', engineRevision: 'test-1' });
});

test('scenarios are listed, and one comes with all it names', async () => {
  const choices = z.array(ScenarioChoice).parse((await get('/api/scenarios')).json());
  expect(choices.map((choice) => choice.id)).toEqual([
    'first-turn-back',
    'low-and-ahead',
    'turn-over-a-floor',
    'unknown-height',
  ]);
  const bundle = ScenarioBundle.parse((await get('/api/scenarios/low-and-ahead')).json());
  expect([bundle.scenario.id, bundle.aircraft.name, bundle.runway.name]).toEqual([
    'low-and-ahead',
    choices[1]?.aircraftName,
    choices[1]?.runwayName,
  ]);
});

test.each(['no-such-one', '__proto__', '..%2Faircraft%2Fturnstone'])('scenario %s is not found', async (id) => {
  const answer = await get(`/api/scenarios/${id}`);
  expect([answer.statusCode, answer.json()]).toEqual([
    404,
    {
      code: 'SCENARIO_NOT_FOUND',
      message: `scenarioId must be one of first-turn-back, low-and-ahead, turn-over-a-floor, unknown-height, got "${decodeURIComponent(id)}"`,
    },
  ]);
});

test('an address that is nothing is answered in JSON', async () => {
  const answer = await get('/api/nothing');
  expect([answer.statusCode, answer.json()]).toEqual([
    404,
    { code: 'NOT_FOUND', message: 'there is nothing at GET /api/nothing' },
  ]);
});

test('an address that names no page shows the page that says so to a browser, and JSON to a program', async () => {
  const browser = await get('/nonsense', { accept: 'text/html,application/xhtml+xml,*/*;q=0.8' });
  expect([browser.statusCode, browser.headers['content-type']]).toEqual([404, 'text/html; charset=utf-8']);
  expect(browser.body).toContain('<title>Pages</title>');
  expect(browser.headers['content-security-policy']).toContain("default-src 'self'");
  for (const headers of [{ accept: '*/*' }, { accept: 'application/json' }, {}] as Record<string, string>[]) {
    const program = await get('/nonsense', headers);
    expect([program.statusCode, program.json().code]).toEqual([404, 'NOT_FOUND']);
  }
  const api = await get('/api/nothing', { accept: 'text/html' });
  expect([api.statusCode, api.json().code]).toEqual([404, 'NOT_FOUND']);
});

test.each(['localhost', 'localhost:4000', '127.0.0.1:80', '127.8.9.1:80', '[::1]:4000'])(
  'Host %s is served',
  async (host) => {
    expect((await get('/api/health', { host })).statusCode).toBe(200);
  },
);

test.each([
  'example.org',
  'localhost.example.org',
  '127.0.0.1.example.org',
  '192.168.1.5:4000',
  'example.org#localhost',
])('Host %j is turned away from API and pages: its name was made to lead here', async (host) => {
  for (const url of ['/api/attempts', '/fly', '/assets/main-a1b2c3.js', '/api/nothing']) {
    const answer = await get(url, { host });
    expect([answer.statusCode, answer.json().code]).toEqual([403, 'FORBIDDEN_HOST']);
  }
});

test.each([
  [undefined, 404],
  ['http://localhost:80', 404],
  ['http://example.org', 403],
  ['null', 403],
  ['http://localhost:81', 403],
  ['http://localhost:80.example.org', 403],
])('a command from a page at %s gets %i', async (origin, status) => {
  const answer = await own.app.inject({
    method: 'POST',
    url: '/api/stations/desk/commands',
    headers: { host: 'localhost:80', ...(origin === undefined ? {} : { origin }) },
    payload: { command: 'reset' },
  });
  expect(answer.statusCode).toBe(status);
});

test('every answer carries the security headers, errors and pages too', async () => {
  for (const url of ['/api/health', '/api/nothing', '/fly', '/assets/main-a1b2c3.js']) {
    const { headers } = await get(url);
    expect(headers['content-security-policy']).toMatch(/^default-src 'self';.*object-src 'none'/);
    expect(headers['content-security-policy']).not.toContain("script-src 'unsafe");
    expect(headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'referrer-policy': 'no-referrer' });
  }
  expect((await get('/api/health')).headers['cache-control']).toBe('no-store');
});

test.each(['/', '/fly', '/debrief', '/debrief/', '/debrief/c9e1d2b3-6a5f-4e8d-8c7b-9a0f1e2d3c4b'])(
  '%s is the page',
  async (url) => {
    const answer = await get(url);
    expect([answer.statusCode, answer.headers['content-type'], answer.headers['cache-control']]).toEqual([
      200,
      'text/html; charset=utf-8',
      'no-cache',
    ]);
    expect(answer.body).toContain('<title>Pages</title>');
  },
);

test('files named by their contents may be kept for good', async () => {
  const answer = await get('/assets/main-a1b2c3.js');
  expect([answer.statusCode, answer.headers['cache-control']]).toEqual([200, 'public, max-age=31536000, immutable']);
});

test('nothing outside the pages is served', async () => {
  const secret = `${webDir.split('/').at(-1)}-secret.txt`;
  for (const url of [
    '/.hidden',
    '/assets',
    '/assets/',
    `/../${secret}`,
    `/..%2f${secret}`,
    `/assets/..%2f..%2f${secret}`,
    '/%00',
    '/%zz',
  ]) {
    const answer = await get(url);
    expect([url, answer.statusCode >= 400 && answer.statusCode < 500]).toEqual([url, true]);
    expect(answer.json()).toEqual({ code: expect.any(String), message: expect.any(String) });
  }
});

test('pages that are not built are missed at once', async () => {
  await expect(testApp({ webDir: join(webDir, 'assets') })).rejects.toThrow(
    `The pages are not built: ${join(webDir, 'assets', 'index.html')} is missing; run npm run build`,
  );
});

test('the API document names every route, with schemas made from those that check', async () => {
  const document = (await get('/api/openapi.json')).json();
  expect(document.openapi).toBe('3.1.0');
  expect(Object.keys(document.paths).sort()).toEqual([
    '/api/attempts',
    '/api/attempts/{id}',
    '/api/attempts/{id}/notes',
    '/api/attempts/{id}/notes/{noteId}',
    '/api/attempts/{id}/recording',
    '/api/attempts/{id}/samples.csv',
    '/api/attempts/{id}/samples.json',
    '/api/attempts/{id}/score',
    '/api/attempts/{id}/trace',
    '/api/compare',
    '/api/compare/progress',
    '/api/compare/students',
    '/api/deleted',
    '/api/deleted/{id}/restore',
    '/api/export/scores.csv',
    '/api/export/scores.json',
    '/api/health',
    '/api/imports',
    '/api/recordings',
    '/api/scenarios',
    '/api/scenarios/{id}',
    '/api/stations',
    '/api/stations/{station}/commands',
  ]);
  const list = document.paths['/api/attempts'].get;
  expect(list.parameters.find((one: { name: string }) => one.name === 'limit').schema).toMatchObject({
    type: 'integer',
    minimum: 1,
    maximum: 200,
    default: 50,
  });
  const answer = list.responses['200'].content['application/json'].schema;
  expect(answer.properties.attempts.items.properties.overall.type).toEqual(['number', 'null']);
  const note = document.paths['/api/attempts/{id}/notes'].post.requestBody.content['application/json'].schema;
  expect(note.properties.text).toMatchObject({ type: 'string', minLength: 1, maxLength: 2000 });
  expect(Object.keys(document.paths['/api/attempts/{id}/notes/{noteId}']).sort()).toEqual(['delete', 'patch']);
  expect(Object.keys(document.paths['/api/attempts/{id}']).sort()).toEqual(['delete', 'get']);
  const upload = document.paths['/api/recordings'].post;
  expect(Object.keys(upload.requestBody.content)).toEqual(['application/x-ndjson']);
  expect(Object.keys(upload.responses)).toEqual(expect.arrayContaining(['200', '201', '4XX']));
  const command =
    document.paths['/api/stations/{station}/commands'].post.requestBody.content['application/json'].schema;
  expect(command.oneOf.length).toBe(12);
});
