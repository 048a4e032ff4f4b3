// The websocket to the server: it comes back by itself, and every message with an id gets an answer.
import { expect, onTestFinished, test } from 'vitest';
import { startBridge } from './bridge.js';
import { fakeServer } from './fakeServer.fixture.js';
import { temporaryFolder, until } from './testing.fixture.js';

async function connected() {
  const server = await fakeServer();
  const bridge = await startBridge({
    station: 'Station 1',
    links: [],
    serverUrl: `${server.url}/`,
    dataDir: temporaryFolder(),
  });
  onTestFinished(() => bridge.close());
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
