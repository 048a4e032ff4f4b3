// A server that takes the connection and reads nothing: the recording is whole, and the live view waits until it reads.
import { createHash } from 'node:crypto';
import { createSocket } from 'node:dgram';
import { readdirSync, readFileSync } from 'node:fs';
import { type AddressInfo, createServer, type Socket } from 'node:net';
import { join } from 'node:path';
import { readRecording } from '@stillprop/contracts';
import { standInText } from '@stillprop/links';
import { expect, onTestFinished, test } from 'vitest';
import { startBridge } from './bridge.js';
import { liveState } from './liveState.js';
import { keepServerLink } from './serverLink.js';
import { demoBundle, demoLink, demoSample, temporaryFolder, until } from './testing.fixture.js';

/** Answers the opening handshake of a websocket (RFC 6455, 4.2.2), and from then on reads no byte. */
async function deafServer() {
  const sockets: Socket[] = [];
  const server = createServer((socket) => {
    sockets.push(socket);
    socket.on('error', () => undefined);
    socket.once('data', (bytes) => {
      socket.pause();
      const key = /sec-websocket-key: (\S+)/i.exec(String(bytes))?.[1] ?? '';
      const accept = createHash('sha1').update(`${key}258EAFA5-E914-47DA-95CA-C5AB0DC85B11`).digest('base64');
      socket.write(
        `HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Accept: ${accept}\r\n\r\n`,
      );
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    for (const socket of sockets) socket.destroy();
    server.close();
  });
  return { url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, sockets };
}

test('every sample is recorded, though the server reads nothing', async () => {
  const { url, sockets } = await deafServer();
  const dataDir = temporaryFolder();
  const bridge = await startBridge({ station: 'Station 1', links: [demoLink(1)], serverUrl: url, dataDir });
  onTestFinished(() => bridge.close());
  await until(() => sockets.length > 0);
  const arm = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: null } as const;
  expect((await bridge.command(arm)).ok).toBe(true);
  const socket = createSocket('udp4');
  onTestFinished(() => {
    socket.close();
  });
  const count = 300;
  for (let index = 0; index < count; index += 1) {
    socket.send(standInText(demoSample(1 + index / 60)), bridge.linkAddress()?.port ?? 0, '127.0.0.1');
    await new Promise((resolve) => setTimeout(resolve, 4));
  }
  await until(() => bridge.live().link.received === count);
  await bridge.command({ command: 'stop' });
  await until(() => readdirSync(join(dataDir, 'outbox')).length === 1);
  expect(readdirSync(join(dataDir, 'recordings'))).toEqual([]);
  const [name = ''] = readdirSync(join(dataDir, 'outbox'));
  const read = readRecording(readFileSync(join(dataDir, 'outbox', name), 'utf8'));
  expect(read.ok && read.recording.samples.length).toBe(count);
});

test('the live view is not told any further while the server reads nothing', async () => {
  const { url } = await deafServer();
  let asked = 0;
  const link = keepServerLink({
    serverUrl: url,
    hello: () => ({ type: 'hello', station: 'Station 1', links: [] }),
    heard: () => null,
    live: () => {
      asked += 1;
      const alarms = [String(asked).padEnd(1024 * 1024, '.')]; // fills what the system itself holds within seconds
      return liveState({
        station: 'Station 1',
        link: null,
        attempt: null,
        newest: null,
        lastClosed: null,
        outboxWaiting: 0,
        alarms,
      });
    },
    command: async () => ({ ok: true, message: '', attemptId: null }),
    onConnected: () => undefined,
    onNameTaken: () => undefined,
    log: () => undefined,
  });
  onTestFinished(() => link.close());
  await until(() => asked > 0);
  for (let before = 0; before !== asked; ) {
    before = asked;
    await new Promise((resolve) => setTimeout(resolve, 600)); // six times as long as between two live views
  }
  expect(asked).toBeGreaterThan(0);
});
