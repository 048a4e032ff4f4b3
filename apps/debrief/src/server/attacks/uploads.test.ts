// Uploads that are too big, or say one size and send another: 413 with a sentence, bounded memory, nothing left on disk.
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { recordingText, sha256 } from '../attempt.fixture.js';
import { type Attacked, attackedApp } from './listening.fixture.js';

const ID = '1a2b3c4d-5e6f-4a1b-8c2d-3e4f5a6b7c8d';
const LIMIT = 2 ** 20;
let own: Attacked;
beforeEach(async () => {
  own = await attackedApp({ maxRecordingBytes: LIMIT });
});
afterEach(() => own.close());

const head = (length: string) =>
  `POST /api/recordings HTTP/1.1\r\n${own.host}Content-Type: application/x-ndjson\r\nX-Content-SHA256: ${'0'.repeat(64)}\r\n${length}\r\n\r\n`;
const chunk = (bytes: number) => Buffer.from(`${bytes.toString(16)}\r\n${'a'.repeat(bytes)}\r\n`);

async function nothingKept(): Promise<void> {
  expect(await readdir(join(own.dataDir, 'recordings'))).toEqual([]);
  expect((await own.store.list({ limit: 1 })).total).toBe(0);
  expect(await own.healthy()).toBe(true);
}

test.each([
  ['says so, and sends nothing', () => [head('Content-Length: 99999999999')]],
  ['asks first', () => [head('Content-Length: 99999999999\r\nExpect: 100-continue')]],
  ['comes in chunks', () => [head('Transfer-Encoding: chunked'), ...Array.from({ length: 20 }, () => chunk(2 ** 16))]],
  ['comes in one chunk', () => [head('Transfer-Encoding: chunked'), chunk(LIMIT + 1)]],
])('a recording over the limit that %s is refused and the connection ends', async (_, parts) => {
  const { status, body } = await own.raw(...parts());
  expect([status, JSON.parse(body)]).toEqual([413, { code: 'TOO_LARGE', message: 'the body must be at most 1 MiB' }]);
  await nothingKept();
});

test('one that never ends is cut off soon after the limit, not taken in for ever', async () => {
  const { socket, closed } = await own.wire();
  let sent = 0;
  let over = false;
  closed.then(() => {
    over = true;
  });
  socket.on('close', () => {
    over = true;
  });
  socket.write(head('Transfer-Encoding: chunked'));
  while (!over && sent < 512 * LIMIT) {
    const more = socket.write(chunk(2 ** 16));
    sent += 2 ** 16;
    await new Promise<void>((next) => (more ? setImmediate(next) : socket.once('drain', next).once('close', next)));
  }
  expect(await closed).toMatch(/^HTTP\/1.1 413 /);
  expect(sent).toBeLessThan(64 * LIMIT);
  await nothingKept();
});

test('one that breaks off halfway leaves nothing', async () => {
  const text = recordingText({ attemptId: ID });
  const { socket } = await own.wire();
  socket.write(head(`Content-Length: ${text.length}`) + text.slice(0, text.length / 2));
  socket.destroy();
  await expect.poll(own.connections).toBe(0);
  await nothingKept();
});

test('compressed bodies are not unpacked: a bomb is what it is on the wire', async () => {
  const bomb = gzipSync(Buffer.alloc(64 * LIMIT));
  expect(bomb.length).toBeLessThan(LIMIT);
  for (const url of ['/api/recordings', '/api/stations/desk/commands']) {
    for (const type of ['application/x-ndjson', 'application/json']) {
      const answer = await own.app.inject({
        method: 'POST',
        url,
        headers: { 'content-type': type, 'content-encoding': 'gzip', 'x-content-sha256': sha256(bomb) },
        payload: bomb,
      });
      expect(answer.statusCode).toBeGreaterThanOrEqual(400);
      expect(answer.statusCode).toBeLessThan(500);
      expect(answer.json()).toEqual({ code: expect.any(String), message: expect.any(String) });
    }
  }
  await nothingKept();
});

test('websockets offer no compression, so that no message unpacks to more than it is', async () => {
  const { socket, received } = await own.wire();
  socket.write(
    `GET /ws/bridge HTTP/1.1\r\n${own.host}Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\nSec-WebSocket-Extensions: permessage-deflate\r\n\r\n`,
  );
  await expect.poll(received).toMatch(/^HTTP\/1.1 101 [\s\S]*\r\n\r\n/);
  expect(received()).not.toMatch(/permessage-deflate/i);
});
