// The token by which a server knows a station: shown with every way in; refused, it is said so and nothing is lost.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { startRoom } from './bridge.js';
import { fakeServer } from './fakeServer.fixture.js';
import { demoBundle, demoLink, temporaryFolder, until } from './testing.fixture.js';

const ARM = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: null } as const;

async function started(serverUrl: string, tokens: readonly (string | null)[]) {
  const dataDir = temporaryFolder();
  const stations = tokens.map((token, index) => ({ station: `Station ${index + 1}`, links: [demoLink(1)], token }));
  const room = await startRoom({ stations, serverUrl, dataDir });
  onTestFinished(() => room.close());
  return { room, outbox: join(dataDir, 'outbox') };
}

test('each station shows its own token, also with its recordings, and one without shows none', async () => {
  const server = await fakeServer();
  const { room } = await started(server.url, ['one', 'two', null]);
  await until(() => server.connections === 3);
  expect(server.authorizations.map(String).sort()).toEqual(['Bearer one', 'Bearer two', 'undefined']);
  server.authorizations.length = 0;
  await room.stations[1]?.command(ARM);
  await room.stations[1]?.command({ command: 'stop' });
  await until(() => server.posts.length === 1);
  expect(server.authorizations).toEqual(['Bearer two']);
});

test('a token that was revoked is an alarm with the words of the server, and the recording waits until it is taken', async () => {
  const server = await fakeServer();
  server.takesToken = 'newer';
  const { room, outbox } = await started(server.url, ['older']);
  const [station] = room.stations;
  await until(() => station?.live().alarm !== null);
  expect(station?.live().alarm).toBe(
    'The server does not take station Station 1: its token was revoked. Recordings are kept here until it does.',
  );
  await station?.command(ARM);
  await station?.command({ command: 'stop' });
  await until(() => server.posts.length > 0);
  expect(readdirSync(outbox)).toHaveLength(1);
  server.takesToken = 'older';
  await until(() => readdirSync(outbox).length === 0);
  await until(() => station?.live().alarm === null);
});
