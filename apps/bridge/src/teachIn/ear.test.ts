// Hearing an unknown simulator over each transport, by real sockets, and what is told where nothing can come in.
import { createSocket } from 'node:dgram';
import { connect, createServer } from 'node:net';
import { LinkTransport } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { WebSocket, WebSocketServer } from 'ws';
import { until } from '../testing.fixture.js';
import { type Ear, openEar } from './ear.js';

/** Senders of a profile are others: nobody here is among them. */
const allowedSenders = ['192.0.2.1'];

async function hear(asked: object): Promise<{ ear: Ear; came: string[]; errors: string[] }> {
  const came: string[] = [];
  const errors: string[] = [];
  const ear = await openEar(LinkTransport.parse(asked), {
    onMessage: (bytes, sender) => came.push(`${sender} ${new TextDecoder().decode(bytes)}`),
    onError: (message) => errors.push(message),
  });
  onTestFinished(() => ear.transport.close());
  return { ear, came, errors };
}

test('datagrams of anybody are heard', async () => {
  const { ear, came } = await hear({ kind: 'udp', listenPort: 0, allowedSenders });
  const { port } = ear.transport.address;
  expect(ear.heardOn).toMatchObject({ kind: 'udp', listenPort: port });
  const socket = createSocket('udp4');
  onTestFinished(() => void socket.close());
  socket.send('1;2;3', port, '127.0.0.1');
  await until(() => came.length > 0);
  expect(came).toEqual(['127.0.0.1 1;2;3']);
});

test('lines of whoever connects by TCP are heard, and a command goes back over the connection', async () => {
  const { ear, came } = await hear({ kind: 'tcpServer', listenPort: 0, allowedSenders });
  const back: string[] = [];
  const socket = connect(ear.transport.address.port, '127.0.0.1');
  onTestFinished(() => void socket.destroy());
  socket.on('data', (bytes) => back.push(String(bytes)));
  socket.write('1;2\n3;4\n');
  await until(() => came.length === 2);
  expect(came).toEqual(['127.0.0.1 1;2', '127.0.0.1 3;4']);
  ear.transport.send(new TextEncoder().encode('OFF'), 'text');
  await until(() => back.length > 0);
  expect(back).toEqual(['OFF']);
});

test('messages of whoever connects by websocket are heard, a web page that is not named is refused and told', async () => {
  const { ear, came, errors } = await hear({ kind: 'websocketServer', listenPort: 0, allowedSenders });
  const url = `ws://127.0.0.1:${ear.transport.address.port}`;
  const page = new WebSocket(url, { origin: 'http://elsewhere.invalid' });
  page.on('error', () => undefined);
  await until(() => errors.length > 0);
  expect(ear.problem()).toMatch(/http:\/\/elsewhere\.invalid is not among the allowedOrigins/);
  const socket = new WebSocket(url);
  onTestFinished(() => socket.terminate());
  socket.on('open', () => socket.send('{"a":1}'));
  await until(() => came.length > 0);
  expect(came).toEqual(['127.0.0.1 {"a":1}']);
  expect(ear.problem()).toBeNull();
});

test('a simulator is connected to by TCP and by websocket', async () => {
  const lines = createServer((socket) => socket.write('5;6\n'));
  await new Promise<void>((resolve) => lines.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => void lines.close());
  const { port } = lines.address() as { port: number };
  const tcp = await hear({ kind: 'tcpClient', host: '127.0.0.1', port });
  await until(() => tcp.came.length > 0);
  expect(tcp.came).toEqual(['127.0.0.1 5;6']);

  const sockets = new WebSocketServer({ port: 0, host: '127.0.0.1' });
  await new Promise((resolve) => sockets.once('listening', resolve));
  onTestFinished(() => void sockets.close());
  sockets.on('connection', (socket) => socket.send('7;8'));
  const websocket = await hear({
    kind: 'websocketClient',
    url: `ws://127.0.0.1:${(sockets.address() as { port: number }).port}`,
  });
  await until(() => websocket.came.length > 0);
  expect(websocket.came).toEqual(['127.0.0.1 7;8']);
});

test('where nothing answers, and where a port is taken, it says so', async () => {
  const { ear } = await hear({ kind: 'udp', listenPort: 0 });
  const { port } = ear.transport.address;
  const far = await hear({ kind: 'tcpClient', host: '127.0.0.1', port });
  await until(() => far.ear.problem() !== null);
  expect(far.ear.problem()).toMatch(/^is not connected to 127\.0\.0\.1 port \d+: nothing listens there/);
  await expect(hear({ kind: 'udp', listenPort: port })).rejects.toThrow(
    `cannot listen on 127.0.0.1 port ${port}: port ${port} is used by another program`,
  );
});
