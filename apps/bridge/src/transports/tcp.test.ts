// Lines over TCP on loopback, in either direction: half lines, long ones, strangers, lost connections, commands back.
import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Server, type Socket } from 'node:net';
import { TcpClientTransport, TcpServerTransport } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { until } from '../testing.fixture.js';
import { opened } from './transports.fixture.js';

const listening = (own: Partial<TcpServerTransport> = {}) =>
  TcpServerTransport.parse({ kind: 'tcpServer', listenPort: 0, longestLineBytes: 64, ...own });

async function connected(port: number) {
  const socket = connect({ host: '127.0.0.1', port });
  const got: string[] = [];
  socket.on('data', (bytes) => got.push(String(bytes))).on('error', () => undefined);
  onTestFinished(() => {
    socket.destroy();
  });
  await once(socket, 'connect');
  return { socket, got };
}

test('a simulator that connects is read in lines, and commands go back to it', async () => {
  const { transport, heard } = await opened(listening());
  const { socket, got } = await connected(transport.address.port);
  socket.write('one\ntw');
  await until(() => heard.messages.length === 1);
  socket.write('o\r\n');
  await until(() => heard.messages.length === 2);
  expect(heard).toMatchObject({ messages: ['one', 'two'], senders: ['127.0.0.1', '127.0.0.1'], refused: [] });
  transport.send(new TextEncoder().encode('FAIL\n'), 'text');
  await until(() => got.length === 1);
  expect(got).toEqual(['FAIL\n']);
});

test('commands go over the connection that spoke last, and nowhere once none is left', async () => {
  const { transport, heard } = await opened(listening());
  const first = await connected(transport.address.port);
  const second = await connected(transport.address.port);
  first.socket.write('first\n');
  await until(() => heard.messages.length === 1);
  transport.send(new TextEncoder().encode('A\n'), 'text');
  await until(() => first.got.length === 1);
  second.socket.write('second\n');
  await until(() => heard.messages.length === 2);
  transport.send(new TextEncoder().encode('B\n'), 'text');
  await until(() => second.got.length === 1);
  expect([first.got, second.got]).toEqual([['A\n'], ['B\n']]);
  second.socket.destroy();
  first.socket.destroy();
  await until(() => transport.connections() === 0);
  expect(() => transport.send(new Uint8Array([65]), 'text')).toThrow('no simulator is connected');
});

test('a line that grows too long is refused, and the next one is read', async () => {
  const { transport, heard } = await opened(listening());
  const { socket } = await connected(transport.address.port);
  socket.write(`${'x'.repeat(5000)}\nnext\n`);
  await until(() => heard.messages.length === 1);
  expect(heard).toMatchObject({ messages: ['next'], refused: [['line-too-long', '127.0.0.1']] });
});

test('a stranger is turned away, and so is one connection too many', async () => {
  const closed = await opened(listening({ allowedSenders: ['192.0.2.1'] }));
  const { socket } = await connected(closed.transport.address.port);
  await once(socket, 'close');
  expect(closed.heard.refused).toEqual([['sender-not-allowed', '127.0.0.1']]);

  const { transport, heard } = await opened(listening());
  for (let i = 0; i < 4; i += 1) await connected(transport.address.port);
  const fifth = await connected(transport.address.port);
  await once(fifth.socket, 'close');
  expect(heard.refused).toEqual([['too-many-connections', '127.0.0.1']]);
  expect(transport.connections()).toBe(4);
});

test('a port in use is said to be so', async () => {
  const { transport } = await opened(listening());
  await expect(opened(listening({ listenPort: transport.address.port }))).rejects.toThrow(
    /^cannot listen on 127\.0\.0\.1 port \d+: .* is used by another program: .*transport\.listenPort/,
  );
});

/** A simulator that listens. */
async function simulator(port = 0): Promise<{ server: Server; sockets: Socket[]; port: number; got: string[] }> {
  const sockets: Socket[] = [];
  const got: string[] = [];
  const server = createServer((socket) => {
    sockets.push(socket);
    socket.on('data', (bytes) => got.push(String(bytes))).on('error', () => undefined);
  });
  server.listen(port, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => {
    for (const socket of sockets) socket.destroy();
    server.close();
  });
  return { server, sockets, port: (server.address() as AddressInfo).port, got };
}
const connecting = (port: number) => TcpClientTransport.parse({ kind: 'tcpClient', host: '127.0.0.1', port });

test('it connects to a simulator, and again when the connection is lost; half a line of the old one is not joined', async () => {
  const { sockets, port, got } = await simulator();
  const { transport, heard } = await opened(connecting(port));
  await until(() => sockets.length === 1);
  sockets[0]?.write('one\nhalf a ');
  await until(() => heard.messages.length === 1);
  transport.send(new TextEncoder().encode('FAIL\n'), 'text');
  await until(() => got.length === 1);
  sockets[0]?.destroy();
  await until(() => sockets.length === 2);
  sockets[1]?.write('line\n');
  await until(() => heard.messages.length === 2);
  expect(heard.messages).toEqual(['one', 'line']);
  expect(got).toEqual(['FAIL\n']);
  expect(heard.problems).toEqual([null, expect.stringContaining('the simulator ended the connection'), null]);
});

test('where nothing listens yet, it says what to do, and connects once something does', async () => {
  const { server, port } = await simulator();
  server.close();
  await once(server, 'close');
  const { transport, heard } = await opened(connecting(port));
  await until(() => heard.problems.length > 0);
  expect(heard.problems[0]).toBe(
    `is not connected to 127.0.0.1 port ${port}: nothing listens there: start your simulator, or correct the address (transport.host and transport.port in the link file); it is tried again and again`,
  );
  expect(() => transport.send(new Uint8Array([65]), 'text')).toThrow('no simulator is connected');
  await simulator(port);
  await until(() => transport.connections() === 1);
  expect(heard.problems.at(-1)).toBeNull();
});

test('a simulator that reads nothing is told as such instead of commands piling up', async () => {
  const { sockets, port } = await simulator();
  const { transport } = await opened(connecting(port));
  await until(() => sockets.length === 1 && transport.connections() === 1);
  sockets[0]?.pause();
  const much = new Uint8Array(16 * 1024 * 1024);
  transport.send(much, 'bytes');
  expect(() => transport.send(new Uint8Array([65]), 'text')).toThrow('the simulator is connected but reads nothing');
});
