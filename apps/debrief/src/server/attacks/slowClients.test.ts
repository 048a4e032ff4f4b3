// Clients that are slow, silent, half there or do not read: others are served meanwhile, and the slow are let go.
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BridgeHello } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import WebSocket from 'ws';
import { recordingText, SHELF } from '../attempt.fixture.js';
import { type Attacked, attackedApp, SHORT_PATIENCE } from './listening.fixture.js';

const ID = '4d3c2b1a-6f5e-4a7b-8c9d-0e1f2a3b4c5d';
let own: Attacked;
beforeEach(async () => {
  own = await attackedApp({ patience: SHORT_PATIENCE, answerWithinMs: 20_000 });
});
afterEach(() => own.close());

/** Sends a byte now and then until the connection is closed. */
function trickle(
  socket: { readonly writable: boolean; write(text: string): unknown },
  closed: Promise<unknown>,
  byte: string,
) {
  const timer = setInterval(() => socket.writable && socket.write(byte), 20);
  closed.finally(() => clearInterval(timer));
}

test('headers that trickle in are waited for so long and no longer', async () => {
  const { socket, closed } = await own.wire();
  socket.write(`GET /api/health HTTP/1.1\r\n${own.host}X: `);
  trickle(socket, closed, 'a');
  expect(await own.healthy()).toBe(true);
  expect(await closed).toMatch(/^HTTP\/1.1 408 .*"code":"TOO_SLOW","message":"the request did not come in whole/s);
});

test.each([
  ['of a stated length', 'Content-Length: 100000\r\n', 'a'],
  ['in chunks', 'Transfer-Encoding: chunked\r\n', '1\r\na\r\n'],
])(
  'a recording %s that trickles in is waited for so long and no longer, and nothing of it is kept',
  async (_, length, byte) => {
    const { socket, closed } = await own.wire();
    socket.write(
      `POST /api/recordings HTTP/1.1\r\n${own.host}Content-Type: application/x-ndjson\r\nX-Content-SHA256: ${'0'.repeat(64)}\r\n${length}\r\n`,
    );
    trickle(socket, closed, byte);
    expect(await own.healthy()).toBe(true);
    expect(await closed).toMatch(/^HTTP\/1.1 408 /);
    expect((await own.store.list({ limit: 1 })).total).toBe(0);
  },
);

test('hundreds that connect and say nothing are let go, and others are served meanwhile', async () => {
  let taken = 0;
  own.app.server.on('connection', () => (taken += 1));
  const idle = await Promise.all(Array.from({ length: 300 }, () => own.wire()));
  await expect.poll(() => taken).toBe(300);
  expect(await own.healthy()).toBe(true);
  await Promise.all(idle.map(({ closed }) => closed));
  for (const { socket } of idle) socket.destroy();
  await expect.poll(own.connections).toBe(0);
});

test('a side that ends its half in the middle of a request is not waited for', async () => {
  const { socket, closed } = await own.wire();
  socket.write(
    `POST /api/recordings HTTP/1.1\r\n${own.host}Content-Length: 100\r\nContent-Type: application/x-ndjson\r\n\r\nabc`,
  );
  socket.end();
  await closed;
  await expect.poll(own.connections).toBe(0);
});

test('a reader that never reads a big answer is let go, and others are served meanwhile', async () => {
  // Blank lines make it longer than the buffers of both sides, and are quickly read.
  await own.send(`${recordingText({ attemptId: ID })}${'\n'.repeat(12 * 2 ** 20)}`);
  const { socket } = await own.wire({ reads: false });
  socket.write(`GET /api/attempts/${ID}/recording HTTP/1.1\r\n${own.host}\r\n`);
  await expect.poll(own.connections).toBe(1);
  expect(await own.healthy()).toBe(true);
  await expect.poll(own.connections, { timeout: 10_000 }).toBe(0);
});

const SHIPPED = JSON.parse(readFileSync(join(SHELF, 'links/stand-in-text.json'), 'utf8'));
/** As long as a command may be. */
const BULKY_PROFILE = {
  ...SHIPPED,
  decoder: {
    ...SHIPPED.decoder,
    columns: [...SHIPPED.decoder.columns, ...Array.from({ length: 230 }, (_, i) => `${i}-${'x'.repeat(190)}`)],
  },
};
const hello: BridgeHello = { type: 'hello', station: 'desk', links: [] };

test('a bridge that never reads is let go before more than its share waits for it, though it answers pings unasked', async () => {
  const bridge = new WebSocket(`ws://127.0.0.1:${own.port}/ws/bridge`);
  bridge.on('error', () => undefined);
  await once(bridge, 'open');
  bridge.pause();
  bridge.send(JSON.stringify(hello));
  const pongs = setInterval(() => bridge.pong(), 10);
  const stations = async () => (await own.app.inject({ url: '/api/stations' })).json();
  await expect.poll(stations).toMatchObject([{ connected: true }]);
  const payload = { command: 'save-link', profile: BULKY_PROFILE };
  let left = 0;
  for (let sent = 0; sent < 400 && left === 0; sent += 1) {
    own.app.inject({ method: 'POST', url: '/api/stations/desk/commands', payload }).then(({ statusCode }) => {
      if (statusCode === 502) left += 1;
    });
    await new Promise((resolve) => setImmediate(resolve));
  }
  await expect.poll(() => left).toBeGreaterThan(0);
  clearInterval(pongs);
  bridge.terminate();
  expect(own.logged).toContain('a bridge that does not read its commands was let go');
});
