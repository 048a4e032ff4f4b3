// Tokens of bridges: issued once, kept hashed, revocable; who is let in from where, over HTTP and websocket.
import { once } from 'node:events';
import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BridgeHello } from '@stillprop/contracts';
import { afterEach, beforeEach, describe, expect, onTestFinished, test } from 'vitest';
import WebSocket from 'ws';
import { admitBridge } from './admission.js';
import { recordingText, sha256, testApp } from './attempt.fixture.js';
import { type StationTokens, stationTokens } from './stationTokens.js';

let folder: string;
let tokens: StationTokens;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'stillprop-tokens-'));
  tokens = stationTokens(join(folder, 'data'));
});
afterEach(() => rm(folder, { recursive: true }));
const file = () => join(folder, 'data', 'station-tokens.json');

describe('tokens', () => {
  test('are known by their station, until they are revoked or replaced', async () => {
    const desk = await tokens.issue('desk');
    const other = await tokens.issue('other');
    expect(await tokens.stationOf(desk)).toBe('desk');
    expect(await tokens.stationOf(other)).toBe('other');
    expect((await tokens.list()).map(({ station }) => station)).toEqual(['desk', 'other']);
    const newer = await tokens.issue('desk');
    expect([await tokens.stationOf(desk), await tokens.stationOf(newer)]).toEqual([null, 'desk']);
    expect([await tokens.revoke('desk'), await tokens.revoke('desk')]).toEqual([true, false]);
    expect([await tokens.stationOf(newer), await tokens.stationOf(other)]).toEqual([null, 'other']);
  });
  test('are long, never the same, and not in the file, which others cannot read', async () => {
    const made = [await tokens.issue('desk'), await tokens.issue('desk')];
    expect(new Set(made).size).toBe(2);
    for (const token of made) {
      expect(Buffer.from(token, 'base64url')).toHaveLength(32);
      expect(await readFile(file(), 'utf8')).not.toContain(token);
    }
    expect((await stat(file())).mode & 0o077).toBe(0);
  });
  test('nothing else is one', async () => {
    const token = await tokens.issue('desk');
    for (const wrong of ['', token.slice(1), `${token}x`, token.toUpperCase(), 'x'.repeat(10_000)]) {
      expect(await tokens.stationOf(wrong)).toBeNull();
    }
  });
  test('a damaged file lets nobody in, and is named', async () => {
    await tokens.issue('desk');
    await writeFile(file(), '{"schemaVersion":1}');
    await expect(tokens.stationOf('x')).rejects.toThrow(/station-tokens\.json: tokens/);
  });
});

describe('a bridge is let in', () => {
  const from = (remoteAddress: string, headers: Record<string, string>) => ({ remoteAddress, headers });
  test('from this computer without a token, from elsewhere not', async () => {
    const here = from('::ffff:127.0.0.1', { host: 'localhost:47180' });
    expect(await admitBridge(here, tokens)).toEqual({ station: null, token: null });
    // Whatever name it asks for: the address counts.
    await expect(admitBridge(from('192.0.2.7', { host: 'localhost:47180' }), tokens)).rejects.toMatchObject({
      code: 'TOKEN_NEEDED',
    });
  });
  test('from elsewhere with a token, as the station of that token', async () => {
    const token = await tokens.issue('desk');
    const asking = from('192.0.2.7', { host: '192.0.2.1:47180', authorization: `Bearer ${token}` });
    expect(await admitBridge(asking, tokens)).toEqual({ station: 'desk', token });
    await tokens.revoke('desk');
    await expect(admitBridge(asking, tokens)).rejects.toMatchObject({ code: 'TOKEN_REFUSED' });
    await expect(admitBridge(asking, undefined)).rejects.toMatchObject({ code: 'TOKEN_REFUSED' });
  });
  test('not with a wrong token from this computer either, nor for a web page', async () => {
    const token = await tokens.issue('desk');
    const host = '127.0.0.1:47180';
    for (const authorization of ['Bearer wrong', 'Basic eDp5', 'Bearer ']) {
      await expect(admitBridge(from('127.0.0.1', { host, authorization }), tokens)).rejects.toMatchObject({
        code: 'TOKEN_REFUSED',
      });
    }
    const page = { host, origin: 'http://evil.example', authorization: `Bearer ${token}` };
    await expect(admitBridge(from('127.0.0.1', page), tokens)).rejects.toMatchObject({ code: 'FORBIDDEN_ORIGIN' });
  });
});

async function server() {
  const own = await testApp({ tokens, pingEveryMs: 50 });
  await own.app.listen({ host: '127.0.0.1', port: 0 });
  onTestFinished(() => own.close());
  return { ...own, port: (own.app.server.address() as AddressInfo).port };
}
const ID = '1b2c3d4e-5f60-4718-8293-a4b5c6d7e8f9';

test('a recording is taken with the token of its station, and with no other', async () => {
  const { app } = await server();
  const payload = recordingText({ attemptId: ID });
  const send = (token: string) =>
    app.inject({
      method: 'POST',
      url: '/api/recordings',
      headers: {
        'content-type': 'application/x-ndjson',
        'x-content-sha256': sha256(payload),
        authorization: `Bearer ${token}`,
      },
      payload,
    });
  const other = await send(await tokens.issue('another desk'));
  expect([other.statusCode, other.json().message]).toEqual([
    401,
    'its token is that of station "another desk", got "desk"',
  ]);
  const token = await tokens.issue('desk');
  expect((await send(token)).statusCode).toBe(201);
  await tokens.revoke('desk');
  expect((await send(token)).json()).toMatchObject({
    code: 'TOKEN_REFUSED',
    message: expect.stringContaining('was revoked'),
  });
});

test('pages and commands are not for other computers, whatever name they ask for', async () => {
  const { app } = await server();
  for (const url of ['/api/stations', '/api/attempts', '/api/nowhere']) {
    const answer = await app.inject({ url, remoteAddress: '192.0.2.7', headers: { host: 'localhost' } });
    expect([answer.statusCode, answer.json().code]).toEqual([403, 'FORBIDDEN_ADDRESS']);
  }
});

test('a bridge is only the station of its token, and is let go when that is revoked', async () => {
  const { port } = await server();
  const token = await tokens.issue('desk');
  const connect = (authorization: string) => {
    const socket = new WebSocket(`ws://127.0.0.1:${port}/ws/bridge`, { headers: { authorization } });
    onTestFinished(() => socket.terminate());
    socket.on('error', () => undefined);
    return socket;
  };
  const hello = (station: string): BridgeHello => ({ type: 'hello', station, links: [] });
  const [, response] = await once(connect('Bearer wrong'), 'unexpected-response');
  expect((response as { statusCode: number }).statusCode).toBe(401);

  const other = connect(`Bearer ${token}`);
  await once(other, 'open');
  other.send(JSON.stringify(hello('another desk')));
  const [otherCode, otherReason] = await once(other, 'close');
  expect([otherCode, String(otherReason)]).toEqual([1008, 'its token is that of station "desk", got "another desk"']);

  const socket = connect(`Bearer ${token}`);
  await once(socket, 'open');
  socket.send(JSON.stringify(hello('desk')));
  await tokens.revoke('desk');
  const [code, reason] = await once(socket, 'close');
  expect([code, String(reason)]).toEqual([1008, 'the token of this station was revoked']);
});
