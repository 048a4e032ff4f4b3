// The websocket to the server: it comes back by itself, and every message with an id gets an answer.
import type { LinkProfile } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { startBridge } from './bridge.js';
import { type FakeServer, fakeServer } from './fakeServer.fixture.js';
import { keepServerLink } from './serverLink.js';
import { demoBundle, demoLink, temporaryFolder, until } from './testing.fixture.js';

const NAME_TAKEN = { code: 4001, reason: 'another bridge is connected as station "Station 1"' };
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

async function started(server: FakeServer, links: LinkProfile[] = []) {
  const bridge = await startBridge({
    station: 'Station 1',
    links,
    serverUrl: `${server.url}/`,
    dataDir: temporaryFolder(),
  });
  onTestFinished(() => bridge.close());
  return bridge;
}

async function connected() {
  const server = await fakeServer();
  await started(server);
  await until(() => server.messages.length >= 2);
  return server;
}

test('says hello first, then how it is, also when nothing changes', async () => {
  const server = await connected();
  await until(() => server.messages.length >= 3);
  expect(server.messages.map(({ type }) => type).slice(0, 3)).toEqual(['hello', 'live', 'live']);
  expect(server.wrong).toEqual([]);
});

test('connects again after the connection broke, and says hello again', async () => {
  const server = await connected();
  server.dropConnections();
  await until(() => server.connections === 2);
  await until(() => server.messages.filter(({ type }) => type === 'hello').length === 2);
  expect(new Set(server.instances).size).toBe(1);
});

test('whose name another bridge holds says so in its alarm and leaves the other in peace', async () => {
  const server = await fakeServer();
  server.refuses = NAME_TAKEN;
  const bridge = await started(server, [demoLink(1)]);
  await until(() => bridge.live().alarm !== null);
  expect(bridge.live().alarm).toBe(
    'Another bridge has taken the name of this station, Station 1, so the server does not show this one: give each a name of its own (--station).',
  );
  // A new attempt does not end what the alarm tells of.
  const armed = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: null } as const;
  expect((await bridge.command(armed)).ok).toBe(true);
  await pause(1500);
  expect([server.connections, bridge.live().alarm === null]).toEqual([1, false]);
});

test('asks for its name again after a long wait; once it is held, the alarm is gone', async () => {
  const server = await fakeServer();
  server.refuses = NAME_TAKEN;
  const told: boolean[] = [];
  const bridge = await started(await fakeServer());
  const link = keepServerLink({
    serverUrl: server.url,
    hello: () => ({ type: 'hello', station: 'Station 1', links: [] }),
    heard: () => null,
    live: () => bridge.live(),
    command: (command) => bridge.command(command),
    onConnected: () => undefined,
    onNameTaken: (taken) => told.push(taken),
    log: () => undefined,
    nameTakenWaitMs: 300,
  });
  onTestFinished(() => link.close());
  await until(() => server.connections === 2);
  server.refuses = null;
  await until(() => told.at(-1) === false);
  expect(told.slice(0, -1).every(Boolean)).toBe(true);
});

test('a server that ends each connection at once is asked less and less often', async () => {
  const server = await fakeServer();
  server.refuses = { code: 1008, reason: 'the message is wrong' };
  await started(server);
  await pause(2500);
  // 0.25, 0.5, 1, 2 s between them, each a quarter shorter or longer.
  expect(server.connections).toBeLessThanOrEqual(4);
});

test.each([
  ['{"type":"do","id":"7","command":{"command":"dance"}}', '7'],
  ['{"type":"sing","id":"8"}', '8'],
])('answers %s with what is wrong', async (text, id) => {
  const server = await connected();
  server.sendRaw('no json at all');
  server.sendRaw(text);
  await until(() => server.messages.some(({ type }) => type === 'answer'));
  expect(server.messages.find(({ type }) => type === 'answer')).toMatchObject({ id, ok: false, attemptId: null });
});
