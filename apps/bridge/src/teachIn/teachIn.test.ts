// Teaching a link at a station, over real sockets: from unknown messages to a link that is kept and can be armed.
import { createSocket } from 'node:dgram';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { LinkProfile, LinkTransport, type StationCommand } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { startBridge } from '../bridge.js';
import { fakeServer } from '../fakeServer.fixture.js';
import { demoBundle, demoLink, temporaryFolder, until } from '../testing.fixture.js';

async function simulator() {
  const socket = createSocket('udp4');
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  const commands: string[] = [];
  socket.on('message', (bytes) => commands.push(String(bytes)));
  onTestFinished(() => void socket.close());
  return {
    commands,
    port: socket.address().port,
    send: (text: string, port: number) => socket.send(text, port, '127.0.0.1'),
  };
}

async function freePort(): Promise<number> {
  const socket = createSocket('udp4');
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  const { port } = socket.address();
  await new Promise<void>((resolve) => socket.close(resolve));
  return port;
}

async function bridgeWith(linksDir: string, links: readonly LinkProfile[] = []) {
  const server = await fakeServer();
  const bridge = await startBridge({
    station: 'Desk',
    links,
    serverUrl: server.url,
    dataDir: temporaryFolder(),
    linksDir,
  });
  onTestFinished(() => bridge.close());
  await until(() => server.messages.length > 0);
  return { server, bridge };
}

const listenTo = (listenPort: number): StationCommand => ({
  command: 'listen',
  transport: LinkTransport.parse({ kind: 'udp', listenPort }),
});

const heardIn = (messages: readonly unknown[]) =>
  messages.flatMap((message) => {
    const { type, heard } = message as {
      type: string;
      heard?: { received: number; slots: { newest: unknown }[] } | null;
    };
    return type === 'heard' ? [heard ?? null] : [];
  });

test('the pages are told what is heard while it listens, and once that it no longer does', async () => {
  const { server, bridge } = await bridgeWith(temporaryFolder());
  const sim = await simulator();
  const port = await freePort();
  expect(await bridge.command(listenTo(port))).toMatchObject({ ok: true });
  const sending = setInterval(() => sim.send('1,5;2,5;3,5', port), 20);
  await until(() => heardIn(server.messages).some((heard) => (heard?.received ?? 0) > 0));
  clearInterval(sending);
  expect(
    heardIn(server.messages)
      .at(-1)
      ?.slots.map(({ newest }) => newest),
  ).toEqual([1.5, 2.5, 3.5]);
  expect(bridge.live().alarm).toMatch(/^A link is being taught at this station/);
  await bridge.command({ command: 'stop-listening' });
  await until(() => heardIn(server.messages).at(-1) === null);
  expect(bridge.live().alarm).toBeNull();
});

test('a port that is taken by another program is refused in words', async () => {
  const { bridge } = await bridgeWith(temporaryFolder());
  const { port } = await simulator();
  const answer = await bridge.command(listenTo(port));
  expect(answer.ok).toBe(false);
  expect(answer.message).toMatch(/is used by another program/);
});

test('a command is tried as it would be sent, and only while it listens', async () => {
  const { bridge } = await bridgeWith(temporaryFolder());
  const sim = await simulator();
  const profile = demoLink(sim.port);
  const tried = { command: 'test-command', profile, name: 'setPower' } as const;
  expect((await bridge.command(tried)).message).toMatch(/^nothing listens/);
  await bridge.command(listenTo(await freePort()));
  expect(await bridge.command(tried)).toMatchObject({ ok: true });
  expect((await bridge.command({ ...tried, name: 'pause' })).message).toMatch(/has no command "pause"/);
  await until(() => sim.commands.length > 0);
  expect(sim.commands).toEqual(['POWER fraction=0 propeller=coarse']);
});

test('a saved link is on the disk, told to the pages, read back, changed and armed without a new start', async () => {
  const folder = temporaryFolder();
  const { server, bridge } = await bridgeWith(folder);
  const profile = { ...demoLink((await simulator()).port), id: 'taught' };
  expect(await bridge.command({ command: 'save-link', profile })).toMatchObject({ ok: true });
  expect(readdirSync(folder)).toEqual(['taught.json']);
  expect(LinkProfile.parse(JSON.parse(readFileSync(join(folder, 'taught.json'), 'utf8')))).toEqual(profile);
  await until(() =>
    JSON.stringify(server.messages.filter((message) => (message as { type: string }).type === 'hello').at(-1)).includes(
      'taught',
    ),
  );
  expect(await bridge.command({ command: 'read-link', linkId: 'taught' })).toMatchObject({ ok: true, profile });
  const changed = { ...profile, name: 'Taught anew' };
  expect(await bridge.command({ command: 'save-link', profile: changed })).toMatchObject({ ok: true });
  expect(await bridge.command({ command: 'arm', bundle: demoBundle(), linkId: 'taught', student: null })).toMatchObject(
    { ok: true },
  );
  const refused = await bridge.command({ command: 'save-link', profile });
  expect(refused).toMatchObject({ ok: false, message: 'An attempt is under way: stop it first.' });
});

test('a link that cannot be flown, or whose id another file has, is not saved', async () => {
  const folder = temporaryFolder();
  const profile = demoLink(47_999);
  const { bridge } = await bridgeWith(folder, [profile]);
  const taken = await bridge.command({ command: 'save-link', profile });
  expect(taken.message).toMatch(/^id must be one that no other link has, got "stand-in-text"/);
  const { bankDeg: _, ...channels } = profile.channels;
  const lacking = await bridge.command({ command: 'save-link', profile: { ...profile, id: 'other', channels } });
  expect(lacking.message).toMatch(/bankDeg/);
  expect(readdirSync(folder)).toEqual([]);
  writeFileSync(join(folder, 'stand-in-text.json'), '{}');
  expect(await bridge.command({ command: 'save-link', profile })).toMatchObject({ ok: true });
});
