// Requests made to do harm: broken, foreign, contradictory, poisoned, deep. Each gets a sentence, and the server goes on.
import { afterAll, beforeAll, expect, test } from 'vitest';
import WebSocket from 'ws';
import { type Attacked, attackedApp, type RawAnswer } from './listening.fixture.js';

let own: Attacked;
beforeAll(async () => {
  own = await attackedApp();
});
afterAll(() => own.close());
const CLOSE = 'Connection: close\r\n';

function expectRefusal({ status, headers, body }: RawAnswer, expected: number, words: RegExp): void {
  expect(status).toBe(expected);
  expect(JSON.parse(body)).toEqual({ code: expect.any(String), message: expect.stringMatching(words) });
  expect(body.length).toBeLessThan(400);
  expect(headers['content-security-policy']).toMatch(/^default-src 'self';/);
  expect(headers['x-content-type-options']).toBe('nosniff');
}

const REFUSED: readonly (readonly [what: string, text: () => string, status: number, words: RegExp])[] = [
  ['text that is no HTTP', () => 'hello\r\n\r\n', 400, /must be HTTP/],
  [
    'two lengths',
    () => `POST /api/recordings HTTP/1.1\r\n${own.host}Content-Length: 3\r\nContent-Length: 4\r\n\r\nabcd`,
    400,
    /one length/,
  ],
  [
    'a length and chunks',
    () =>
      `POST /api/recordings HTTP/1.1\r\n${own.host}Content-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`,
    400,
    /one length/,
  ],
  [
    'a header that goes on in the next line',
    () => `GET /api/health HTTP/1.1\r\n${own.host}X: a\r\n b\x00c\r\n\r\n`,
    400,
    /must be HTTP/,
  ],
  [
    'one huge header',
    () => `GET /api/health HTTP/1.1\r\n${own.host}X: ${'a'.repeat(20_000)}\r\n\r\n`,
    431,
    /at most 16 KiB/,
  ],
  [
    'thousands of headers',
    () => `GET /api/health HTTP/1.1\r\n${own.host}${'X: a\r\n'.repeat(9000)}\r\n`,
    431,
    /at most 16 KiB/,
  ],
  ['no Host', () => `GET /api/health HTTP/1.1\r\n${CLOSE}\r\n`, 403, /^Host must be/],
  [
    'a Host made to lead here',
    () => `GET /api/health HTTP/1.1\r\n${CLOSE}Host: rebound.example:${own.port}\r\n\r\n`,
    403,
    /^Host must be/,
  ],
  [
    'two Hosts, the foreign one first',
    () => `GET /api/health HTTP/1.1\r\n${CLOSE}Host: rebound.example\r\n${own.host}\r\n`,
    403,
    /^Host must be/,
  ],
  ['an address that cannot be decoded', () => `GET /%zz HTTP/1.1\r\n${CLOSE}${own.host}\r\n`, 400, /cannot be decoded/],
  [
    'such an address from a foreign Host',
    () => `GET /%zz HTTP/1.1\r\n${CLOSE}Host: rebound.example\r\n\r\n`,
    403,
    /^Host must be/,
  ],
  [
    'a very long id',
    () => `GET /api/attempts/${'a'.repeat(12_000)} HTTP/1.1\r\n${CLOSE}${own.host}\r\n`,
    400,
    /too long to name/,
  ],
  [
    'a websocket where there is none',
    () => `GET /ws/x HTTP/1.1\r\n${own.host}Connection: Upgrade\r\nUpgrade: websocket\r\n\r\n`,
    404,
    /no websocket at/,
  ],
  [
    'an upgrade to something else',
    () => `GET / HTTP/1.1\r\n${own.host}Connection: Upgrade\r\nUpgrade: h2c\r\n\r\n`,
    404,
    /no websocket at/,
  ],
  [
    'a write from a foreign page',
    () =>
      `POST /api/stations/desk/commands HTTP/1.1\r\n${CLOSE}${own.host}Origin: http://rebound.example\r\nContent-Type: application/json\r\nContent-Length: 2\r\n\r\n{}`,
    403,
    /^Origin must be/,
  ],
  [
    'a recording from a foreign page',
    () =>
      `POST /api/recordings HTTP/1.1\r\n${CLOSE}${own.host}Origin: null\r\nContent-Type: application/x-ndjson\r\nContent-Length: 2\r\n\r\n{}`,
    403,
    /^Origin must be/,
  ],
];

test.each(REFUSED)('%s is refused with a sentence and the headers of every answer', async (_, text, status, words) => {
  expectRefusal(await own.raw(text()), status, words);
  expect(await own.healthy()).toBe(true);
});

test('a refused websocket is gone from the server even if the other side keeps its half open', async () => {
  const before = await own.connections();
  const { socket, closed } = await own.wire();
  socket.write(`GET /ws/x HTTP/1.1\r\n${own.host}Connection: Upgrade\r\nUpgrade: websocket\r\n\r\n`);
  await closed;
  expect(socket.writable).toBe(true);
  await expect.poll(own.connections).toBeLessThanOrEqual(before);
});

const command = (payload: string, type = 'application/json') =>
  own.app.inject({
    method: 'POST',
    url: '/api/stations/desk/commands',
    headers: { 'content-type': type },
    payload,
  });

test.each([
  ['{"__proto__":{"polluted":1},"command":"reset"}'],
  ['{"constructor":{"prototype":{"polluted":1}},"command":"reset"}'],
  ['['.repeat(60_000)],
  [`${'['.repeat(30_000)}${']'.repeat(30_000)}`],
  [`${'{"command":'.repeat(5000)}1${'}'.repeat(5000)}`],
  [`{"command":${'['.repeat(30_000)}${']'.repeat(30_000)}}`],
  [''],
  ['null'],
])('a command of bad JSON (%#) is refused, and pollutes nothing', async (payload) => {
  const answer = await command(payload);
  expect([answer.statusCode, answer.json()]).toEqual([400, { code: 'BAD_REQUEST', message: expect.any(String) }]);
  expect(({} as { polluted?: number }).polluted).toBeUndefined();
});

test.each(['__proto__', 'constructor', '../x', 'a%00'])('there is no scenario %s to arm', async (scenarioId) => {
  const answer = await command(JSON.stringify({ command: 'arm', scenarioId, linkId: 'x' }));
  expect([answer.statusCode, answer.json().message]).toEqual([400, expect.stringMatching(/^scenarioId must be/)]);
});

test.each([
  '__proto__=1',
  '__proto__[polluted]=1',
  'constructor[prototype][polluted]=1',
  'limit=1&limit=2',
  'student=a&student=b',
  'before=%00',
])('a list asked for with %s is refused', async (query) => {
  const answer = await own.app.inject({ url: `/api/attempts?${query}` });
  expect([answer.statusCode, answer.json().code]).toEqual([400, 'BAD_REQUEST']);
  expect(({} as { polluted?: number }).polluted).toBeUndefined();
});

test.each([
  'text/plain',
  'text/html',
  'application/xml',
  'application/x-www-form-urlencoded',
  'multipart/form-data; boundary=x',
  'application/x-ndjson-not',
  '*/*',
  'not a type',
  '',
])('a body of type %j is refused before it is read as anything', async (type) => {
  const answer = await command('{"command":"reset"}', type);
  expect([answer.statusCode, answer.json().code]).toEqual([415, 'MEDIA_TYPE']);
});

test.each([
  ['deep', `{"type":"hello","station":${'['.repeat(50_000)}${']'.repeat(50_000)}}`],
  ['deep in itself', '{"type":'.repeat(20_000) + 1 + '}'.repeat(20_000)],
  ['poisoned', '{"__proto__":{"polluted":1},"type":"hello"}'],
])('a %s message of a bridge ends that connection and nothing else', async (_, text) => {
  const socket = new WebSocket(`ws://127.0.0.1:${own.port}/ws/bridge`);
  const closed = new Promise<number>((resolve) => socket.once('close', resolve));
  socket.once('open', () => socket.send(text));
  expect(await closed).toBe(1008);
  expect(await own.healthy()).toBe(true);
  expect(({} as { polluted?: number }).polluted).toBeUndefined();
});
