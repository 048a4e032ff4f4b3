// Bridges and pages on real websockets: commands and answers, live pictures, bad messages, replacement, closing.
import { once } from 'node:events';
import { request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type BridgeHello, BrowserMessage, type LiveState, ServerMessage, type Station } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import WebSocket from 'ws';
import { recordingText, testApp } from './attempt.fixture.js';

const ID = '0f9e8d7c-6b5a-4f3e-9d2c-1b0a9f8e7d6c';
let own: Awaited<ReturnType<typeof testApp>>;
let port: number;
const opened: WebSocket[] = [];

beforeEach(async () => {
  own = await testApp({ answerWithinMs: 150, pingEveryMs: 50 });
  await own.app.listen({ host: '127.0.0.1', port: 0 });
  port = (own.app.server.address() as AddressInfo).port;
});
afterEach(async () => {
  for (const socket of opened.splice(0)) socket.terminate();
  await own.close();
});

const hello = (station: string): BridgeHello => ({
  type: 'hello',
  station,
  links: [
    { id: 'stand-in-json', name: 'Stand-in', description: '', commands: ['fail'], pilots: ['prompt'], missing: [] },
  ],
});
const liveOf = (station: string, heightFt: number): LiveState => ({
  station,
  link: { profileId: 'stand-in-json', state: 'receiving', rateHz: 20, received: 1, refused: {} },
  exercise: { state: 'climbing', text: 'Climbing.', next: 'Climb straight ahead.' },
  attemptId: ID,
  scenarioId: 'first-turn-back',
  timeS: 12,
  heightFt,
  indicatedAirspeedKt: 92,
  bankDeg: 0,
  verticalSpeedFpm: 1200,
  powerFraction: 1,
  alongFt: 5000,
  acrossFt: 0,
  lastClosed: null,
  outboxWaiting: 0,
  alarm: null,
});

async function open(path: string, options: WebSocket.ClientOptions = {}) {
  const socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, options);
  opened.push(socket);
  const texts: string[] = [];
  socket.on('message', (data) => texts.push(String(data)));
  const closed = once(socket, 'close').then(([code, reason]) => ({ code: code as number, reason: String(reason) }));
  await once(socket, 'open');
  return { socket, texts, closed, send: (message: unknown) => socket.send(JSON.stringify(message)) };
}
async function bridge(station: string, headers: Record<string, string> = {}) {
  const { texts, ...rest } = await open('/ws/bridge', { headers });
  rest.send(hello(station));
  await expect.poll(() => stationNamed(station)).toMatchObject({ connected: true });
  return { ...rest, commands: () => texts.map((text) => ServerMessage.parse(JSON.parse(text))) };
}
async function page() {
  const { texts, ...rest } = await open('/ws/live');
  const messages = () => texts.map((text) => BrowserMessage.parse(JSON.parse(text)));
  const pictures = () => messages().flatMap((message) => (message.type === 'stations' ? [message.stations] : []));
  return { ...rest, messages, pictures };
}
const stations = async () => (await own.app.inject({ url: '/api/stations' })).json() as Station[];
const stationNamed = async (name: string) => (await stations()).find((station) => station.station === name);
const command = (station: string, payload: object) =>
  own.app.inject({ method: 'POST', url: `/api/stations/${encodeURIComponent(station)}/commands`, payload });

test('arming reaches the bridge with the whole scenario, and its answer comes back', async () => {
  const desk = await bridge('desk one');
  desk.socket.once('message', (data) => {
    const { id } = ServerMessage.parse(JSON.parse(String(data)));
    desk.send({ type: 'answer', id, ok: true, message: 'Armed.', attemptId: ID });
  });
  const asked = { command: 'arm', scenarioId: 'low-and-ahead', linkId: 'stand-in-json', student: 'Ines Vale', seed: 7 };
  const answer = await command('desk one', asked);
  expect([answer.statusCode, answer.json()]).toEqual([200, { message: 'Armed.', attemptId: ID }]);
  const [sent] = desk.commands();
  expect(sent?.command).toMatchObject({
    command: 'arm',
    linkId: 'stand-in-json',
    student: 'Ines Vale',
    seed: 7,
    bundle: { scenario: { id: 'low-and-ahead' }, rubric: { id: 'standard' } },
  });
  expect(sent?.command).not.toHaveProperty('seriesIndex');
});

test('the other commands pass as they are', async () => {
  const desk = await bridge('desk');
  desk.socket.on('message', (data) => {
    const { id } = ServerMessage.parse(JSON.parse(String(data)));
    desk.send({ type: 'answer', id, ok: true, message: 'Done.', attemptId: null });
  });
  const begin = { command: 'begin', linkId: 'stand-in-json', scenarioId: 'low-and-ahead', pilot: 'prompt', speed: 10 };
  const all = [begin, ...['fail-now', 'restore', 'reset', 'stop'].map((word) => ({ command: word }))];
  for (const one of all) expect((await command('desk', one)).statusCode).toBe(200);
  expect(desk.commands().map((message) => message.command)).toEqual(all);
});

test('what a station cannot do, or does not do in time, is told', async () => {
  const reset = { command: 'reset' };
  const unknown = await command('desk', reset);
  expect([unknown.statusCode, unknown.json()]).toEqual([
    404,
    { code: 'STATION_NOT_FOUND', message: 'no station desk has connected to this server' },
  ]);
  const desk = await bridge('desk');
  const silent = await command('desk', reset);
  expect([silent.statusCode, silent.json()]).toEqual([
    504,
    { code: 'STATION_SILENT', message: 'station desk did not answer within 0.15 s; look at it before trying again' },
  ]);
  desk.socket.once('message', (data) => {
    const { id } = ServerMessage.parse(JSON.parse(String(data)));
    desk.send({ type: 'answer', id: 'some-other', ok: true, message: 'Not this one.', attemptId: null });
    desk.send({ type: 'answer', id, ok: false, message: 'An attempt is being flown.', attemptId: null });
  });
  const refused = await command('desk', reset);
  expect([refused.statusCode, refused.json()]).toEqual([
    409,
    { code: 'STATION_REFUSED', message: 'An attempt is being flown.' },
  ]);
  desk.socket.once('message', () => desk.socket.terminate());
  const left = await command('desk', reset);
  expect([left.statusCode, left.json().code]).toEqual([502, 'STATION_LEFT']);
  const away = await command('desk', reset);
  expect([away.statusCode, away.json()]).toEqual([
    409,
    { code: 'STATION_AWAY', message: 'station desk is not connected at the moment' },
  ]);
});

test.each([
  [
    { command: 'arm', scenarioId: 'no-such', linkId: 'x' },
    'scenarioId must be one of first-turn-back, low-and-ahead, turn-over-a-floor, unknown-height, got "no-such"',
  ],
  [{ command: 'arm', linkId: 'x' }, 'scenarioId is missing: it must be text'],
  [{ command: 'reset', force: true }, 'force is not a field that the body has'],
  [
    { command: 'arm', scenarioId: 'low-and-ahead', linkId: '../x' },
    'linkId must be 1 to 64 lower-case letters, digits and hyphens, not starting with a hyphen, got "../x"',
  ],
])('the command %j is refused and never reaches the bridge', async (payload, message) => {
  const desk = await bridge('desk');
  const answer = await command('desk', payload);
  expect([answer.statusCode, answer.json().message]).toEqual([400, message]);
  expect(desk.commands()).toEqual([]);
});

test('an unknown command and a body that is no JSON are refused', async () => {
  expect((await command('desk', { command: 'explode' })).statusCode).toBe(400);
  const headers = { 'content-type': 'application/json' };
  const answer = await own.app.inject({ method: 'POST', url: '/api/stations/desk/commands', headers, payload: '{' });
  expect([answer.statusCode, answer.json().code]).toEqual([400, 'BAD_REQUEST']);
});

test('a page sees the stations at once, live figures as they come, and a station that goes', async () => {
  const desk = await bridge('desk');
  const viewer = await page();
  await expect.poll(() => viewer.pictures().at(-1)).toMatchObject([{ station: 'desk', connected: true, live: null }]);
  desk.send({ type: 'live', live: liveOf('desk', 640) });
  await expect.poll(() => viewer.pictures().at(-1)?.[0]?.live?.heightFt).toBe(640);
  desk.socket.close();
  await expect.poll(() => viewer.pictures().at(-1)?.[0]).toMatchObject({ connected: false, live: null });
});

test('a page is told when an attempt has been scored', async () => {
  const viewer = await page();
  await own.send(recordingText({ attemptId: ID }));
  await expect.poll(() => viewer.messages()).toContainEqual({ type: 'attempt-scored', attemptId: ID });
});

test('a newer connection of the same bridge takes the place of the older', async () => {
  const own = { 'bridge-instance': '11111111-0000-4000-8000-000000000000' };
  const older = await bridge('desk', own);
  older.send({ type: 'live', live: liveOf('desk', 111) });
  await expect.poll(async () => (await stationNamed('desk'))?.live?.heightFt).toBe(111);
  const newer = await bridge('desk', own);
  expect(await older.closed).toEqual({
    code: 4000,
    reason: "a newer connection of station desk has taken this one's place",
  });
  newer.send({ type: 'live', live: liveOf('desk', 222) });
  await expect.poll(async () => (await stationNamed('desk'))?.live?.heightFt).toBe(222);
  expect((await stations()).length).toBe(1);
});

test.each([
  ['an instance of its own', { 'bridge-instance': '22222222-0000-4000-8000-000000000000' }],
  ['no instance told', {}],
])('another bridge (%s) cannot take the name of one that answers, only of one that has gone', async (_, headers) => {
  const holder = await bridge('desk', { 'bridge-instance': '11111111-0000-4000-8000-000000000000' });
  holder.send({ type: 'live', live: liveOf('desk', 111) });
  await expect.poll(async () => (await stationNamed('desk'))?.live?.heightFt).toBe(111);
  const refused = await open('/ws/bridge', { headers });
  refused.send(hello('desk'));
  expect(await refused.closed).toEqual({
    code: 4001,
    reason: 'another bridge is connected as station "desk": give each a name of its own',
  });
  expect(await stationNamed('desk')).toMatchObject({ connected: true, live: { heightFt: 111 } });
  holder.socket.terminate();
  await expect.poll(() => stationNamed('desk')).toMatchObject({ connected: false });
  const taken = await bridge('desk', headers);
  expect(taken.socket.readyState).toBe(WebSocket.OPEN);
});

test('a bridge that no longer answers pings loses its name to the next', async () => {
  const dead = await open('/ws/bridge', { autoPong: false });
  dead.send(hello('desk'));
  await expect.poll(() => stationNamed('desk')).toMatchObject({ connected: true });
  expect((await dead.closed).code).toBe(1006);
  expect((await bridge('desk')).socket.readyState).toBe(WebSocket.OPEN);
});

test.each([
  ['no JSON', 'hello', /^the message is not JSON/],
  ['an unknown type', '{"type":"shout"}', /^type /],
  ['a list', '[]', /^the message /],
  [
    'live figures before the hello',
    JSON.stringify({ type: 'live', live: liveOf('desk', 1) }),
    /^the first message must be the hello, got type "live"$/,
  ],
  ['an unknown field', JSON.stringify({ ...hello('desk'), extra: 1 }), /^extra is not a field that the message has$/],
])('a bridge that sends %s is closed with the reason, and the server goes on', async (_, text, reason) => {
  const { socket, closed } = await open('/ws/bridge');
  socket.send(text);
  expect(await closed).toEqual({ code: 1008, reason: expect.stringMatching(reason) });
  expect(own.logged.at(-1)).toMatch(/^a bridge's connection was closed: /);
  expect((await own.app.inject({ url: '/api/health' })).statusCode).toBe(200);
});

test('a connection speaks for one station only', async () => {
  const renamed = await bridge('desk');
  renamed.send(hello('other'));
  expect(await renamed.closed).toEqual({
    code: 1008,
    reason: 'station must stay "desk" on this connection, got "other"',
  });
  const forged = await bridge('desk');
  forged.send({ type: 'live', live: liveOf('other', 1) });
  expect(await forged.closed).toEqual({ code: 1008, reason: 'live.station must be "desk", got "other"' });
  expect((await stations()).map((station) => station.station)).toEqual(['desk']);
});

test('binary and oversize messages, and anything a page sends, end that connection only', async () => {
  const binary = await open('/ws/bridge');
  binary.socket.send(new Uint8Array([1, 2, 3]));
  expect(await binary.closed).toEqual({ code: 1003, reason: 'a message must be JSON text, got binary data' });
  const large = await open('/ws/bridge');
  large.socket.send('x'.repeat(300_000));
  expect((await large.closed).code).toBe(1009);
  const viewer = await page();
  viewer.send({ command: 'reset' });
  expect(await viewer.closed).toEqual({ code: 1008, reason: 'this connection only tells; send commands to /api' });
  await bridge('desk');
});

test('a long reason is cut to what a close frame holds, whatever its letters', async () => {
  const { socket, closed } = await open('/ws/bridge');
  socket.send(JSON.stringify({ type: 'hello', station: 'ü'.repeat(150), links: 'ü'.repeat(150) }));
  const { code, reason } = await closed;
  expect(code).toBe(1008);
  expect(Buffer.byteLength(reason)).toBeLessThanOrEqual(123);
});

test('a side that does not answer pings is let go', async () => {
  const { closed } = await open('/ws/bridge', { autoPong: false });
  expect((await closed).code).toBe(1006);
  const desk = await bridge('desk');
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect(desk.socket.readyState).toBe(WebSocket.OPEN);
});

test.each([
  ['another site on /ws/live', '/ws/live', { headers: { origin: 'http://example.org' } }, 403],
  ['another site on /ws/bridge', '/ws/bridge', { headers: { origin: 'http://example.org' } }, 403],
  ['a name made to lead here', '/ws/live', { headers: { host: 'example.org' } }, 403],
  ['a path that is nothing', '/ws/other', {}, 404],
])('a websocket from %s is refused', async (_, path, options, status) => {
  const socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, options);
  socket.on('error', () => undefined);
  const [, response] = await once(socket, 'unexpected-response');
  expect(response.statusCode).toBe(status);
  socket.terminate();
});

test('our own page may connect', async () => {
  const { socket } = await open('/ws/live', { headers: { origin: `http://127.0.0.1:${port}` } });
  expect(socket.readyState).toBe(WebSocket.OPEN);
});

test('a request without a Host is refused', async () => {
  const asked = request({ port, host: '127.0.0.1', path: '/api/attempts', setHost: false, headers: { host: '' } });
  asked.end();
  const [response] = await once(asked, 'response');
  expect(response.statusCode).toBe(403);
});

test('closing says goodbye to bridges and pages, and answers a command under way', async () => {
  const slow = await testApp({ answerWithinMs: 60_000 });
  await slow.app.listen({ host: '127.0.0.1', port: 0 });
  port = (slow.app.server.address() as AddressInfo).port;
  const desk = await open('/ws/bridge');
  desk.send(hello('desk'));
  const viewer = await page();
  await expect.poll(() => viewer.pictures().at(-1)?.length).toBe(1);
  const under = fetch(`http://127.0.0.1:${port}/api/stations/desk/commands`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ command: 'reset' }),
  });
  await expect.poll(() => desk.texts.length).toBe(1);
  await slow.close();
  const answer = await under;
  expect([answer.status, await answer.json()]).toEqual([503, { code: 'CLOSING', message: 'the server is closing' }]);
  const goodbye = { code: 1001, reason: 'the server is closing' };
  expect([await desk.closed, await viewer.closed]).toEqual([goodbye, goodbye]);
});
