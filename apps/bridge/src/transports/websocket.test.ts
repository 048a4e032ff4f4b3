// Messages over websocket on loopback, in either direction: who is let in, sizes, lost connections, no way elsewhere.
import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { WebsocketClientTransport, WebsocketServerTransport } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { WebSocket, WebSocketServer } from 'ws';
import { until } from '../testing.fixture.js';
import { opened } from './transports.fixture.js';

const listening = (own: Partial<WebsocketServerTransport> = {}) =>
  WebsocketServerTransport.parse({ kind: 'websocketServer', listenPort: 0, ...own });
const text = (words: string) => new TextEncoder().encode(words);

function dial(port: number, path = '/', options: WebSocket.ClientOptions = {}) {
  const socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, options);
  const got: (readonly [data: string, isBinary: boolean])[] = [];
  socket.on('message', (data, isBinary) => got.push([String(data), isBinary]));
  onTestFinished(() => socket.terminate());
  const answer = new Promise<number>((resolve) => {
    socket.on('open', () => resolve(101));
    socket.on('unexpected-response', (_request, response) => resolve(response.statusCode ?? 0));
    socket.on('error', () => undefined);
  });
  return { socket, got, answer };
}

test('a simulator that connects is read, as text or bytes, and commands go back as what they are', async () => {
  const { transport, heard } = await opened(listening());
  const { socket, got, answer } = dial(transport.address.port);
  expect(await answer).toBe(101);
  socket.send('one');
  socket.send(text('two'), { binary: true });
  await until(() => heard.messages.length === 2);
  expect(heard).toMatchObject({ messages: ['one', 'two'], senders: ['127.0.0.1', '127.0.0.1'], refused: [] });
  transport.send(text('FAIL'), 'text');
  transport.send(text('FAIL'), 'bytes');
  await until(() => got.length === 2);
  expect(got).toEqual([
    ['FAIL', false],
    ['FAIL', true],
  ]);
});

test('a web page is let in only if the profile names its origin', async () => {
  const allowedOrigins = ['http://127.0.0.1:8080'];
  const { transport, heard } = await opened(listening({ allowedOrigins }));
  const { port } = transport.address;
  expect(await dial(port, '/', { origin: 'http://evil.example' }).answer).toBe(403);
  expect(await dial(port, '/', { origin: 'http://127.0.0.1:8080' }).answer).toBe(101);
  expect(await dial(port).answer).toBe(101);
  expect(heard.refused).toEqual([['origin-not-allowed', 'http://evil.example']]);
});

test('another path, a stranger and a connection too many are turned away', async () => {
  const { transport, heard } = await opened(listening({ path: '/data' }));
  const { port } = transport.address;
  expect(await dial(port, '/other').answer).toBe(404);
  for (let i = 0; i < 4; i += 1) expect(await dial(port, '/data?x=1').answer).toBe(101);
  expect(await dial(port, '/data').answer).toBe(403);
  expect(heard.refused).toEqual([
    ['wrong-path', '/other'],
    ['too-many-connections', '127.0.0.1'],
  ]);
  const closed = await opened(listening({ allowedSenders: ['192.0.2.1'] }));
  expect(await dial(closed.transport.address.port).answer).toBe(403);
  expect(closed.heard.refused).toEqual([['sender-not-allowed', '127.0.0.1']]);
  expect((await fetch(`http://127.0.0.1:${port}/data`)).status).toBe(426);
});

test('a message too large is refused; one far too large ends its connection and nothing else', async () => {
  const { transport, heard } = await opened(listening());
  const first = dial(transport.address.port);
  const second = dial(transport.address.port);
  await Promise.all([first.answer, second.answer]);
  first.socket.send('x'.repeat(20_000));
  first.socket.send('next');
  await until(() => heard.messages.length === 1);
  expect(heard.refused).toEqual([['too-large', '127.0.0.1']]);
  second.socket.send('x'.repeat(200_000));
  await once(second.socket, 'close');
  first.socket.send('last');
  await until(() => heard.messages.length === 2);
  expect(heard).toMatchObject({
    messages: ['next', 'last'],
    refused: [
      ['too-large', '127.0.0.1'],
      ['too-large', '127.0.0.1'],
    ],
  });
});

/** A simulator that listens. */
async function simulator(port = 0) {
  const server = new WebSocketServer({ host: '127.0.0.1', port });
  const sockets: WebSocket[] = [];
  const got: string[] = [];
  server.on('connection', (socket) => {
    sockets.push(socket);
    socket.on('message', (data) => got.push(String(data)));
  });
  await once(server, 'listening');
  onTestFinished(() => {
    for (const socket of sockets) socket.terminate();
    server.close();
  });
  return { sockets, got, port: (server.address() as AddressInfo).port };
}
const connecting = (port: number) =>
  WebsocketClientTransport.parse({ kind: 'websocketClient', url: `ws://127.0.0.1:${port}/data` });

test('it connects to a simulator, and again when the connection is lost', async () => {
  const { sockets, got, port } = await simulator();
  const { transport, heard } = await opened(connecting(port));
  await until(() => sockets.length === 1 && transport.connections() === 1);
  sockets[0]?.send('one');
  await until(() => heard.messages.length === 1);
  transport.send(text('FAIL'), 'text');
  await until(() => got.length === 1);
  sockets[0]?.terminate();
  await until(() => sockets.length === 2 && transport.connections() === 1);
  sockets[1]?.send('two');
  await until(() => heard.messages.length === 2);
  expect(heard).toMatchObject({ messages: ['one', 'two'], senders: ['127.0.0.1', '127.0.0.1'] });
  expect(heard.problems).toEqual([null, expect.stringContaining('the simulator ended the connection'), null]);
});

test('a simulator that sends it on to another address is not followed there', async () => {
  const elsewhere = await simulator();
  const server = createServer((_request, response) => {
    response.writeHead(302, { location: `ws://127.0.0.1:${elsewhere.port}/` }).end();
  });
  server.on('upgrade', (_request, socket) => {
    socket.end(`HTTP/1.1 302 Found\r\nLocation: ws://127.0.0.1:${elsewhere.port}/\r\nContent-Length: 0\r\n\r\n`);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  const { transport, heard } = await opened(connecting((server.address() as AddressInfo).port));
  await until(() => heard.problems.length >= 2);
  expect(heard.problems[0]).toMatch(/^is not connected to ws:.*302/);
  expect(elsewhere.sockets).toEqual([]);
  expect(() => transport.send(text('FAIL'), 'text')).toThrow('no simulator is connected');
});
