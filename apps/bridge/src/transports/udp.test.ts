// Datagrams on loopback: straight, to all and to a group; what cannot be opened says what to do.
import { createSocket } from 'node:dgram';
import { UdpTransport } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { until } from '../testing.fixture.js';
import { opened } from './transports.fixture.js';

const asked = (own: Partial<UdpTransport> = {}) => UdpTransport.parse({ kind: 'udp', listenPort: 0, ...own });

async function sender() {
  const socket = createSocket('udp4');
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    socket.close();
  });
  return socket;
}

test('a datagram comes in with its sender, and one goes out to an address', async () => {
  const { transport, heard } = await opened(asked());
  const socket = await sender();
  socket.send('one', transport.address.port, '127.0.0.1');
  await until(() => heard.messages.length === 1);
  expect(heard).toMatchObject({ messages: ['one'], senders: ['127.0.0.1'], refused: [] });
  const back = new Promise<string>((resolve) => socket.once('message', (bytes) => resolve(String(bytes))));
  transport.sendTo?.(new TextEncoder().encode('FAIL'), '127.0.0.1', socket.address().port);
  expect(await back).toBe('FAIL');
  expect(() => transport.send(new Uint8Array(), 'text')).toThrow(/commands\.port/);
});

test('broadcasts come in where it listens on all addresses', async () => {
  const { transport, heard } = await opened(asked({ listenHost: '0.0.0.0' }));
  const socket = await sender();
  socket.setBroadcast(true);
  socket.send('to all', transport.address.port, '127.255.255.255');
  await until(() => heard.messages.length === 1);
  expect(heard).toMatchObject({ messages: ['to all'], senders: ['127.0.0.1'] });
});

test('what is sent to a group comes in once the group is joined', async () => {
  // 239.255.0.0/16 is for local use (RFC 2365).
  const group = '239.255.77.19';
  const { transport, heard } = await opened(
    asked({ listenHost: '0.0.0.0', multicastGroup: group, multicastInterface: '127.0.0.1' }),
  );
  const socket = await sender();
  socket.setMulticastInterface('127.0.0.1');
  socket.send('to the group', transport.address.port, group);
  await until(() => heard.messages.length === 1);
  expect(heard.messages).toEqual(['to the group']);
  expect(transport.where).toBe(`listens on 0.0.0.0 port ${transport.address.port} to group ${group}`);
});

test('a network card that is not there is said to be so', async () => {
  const wrong = asked({ listenHost: '0.0.0.0', multicastGroup: '239.255.77.19', multicastInterface: '192.0.2.9' });
  await expect(opened(wrong)).rejects.toThrow(
    /^cannot join group 239\.255\.77\.19 on the network card 192\.0\.2\.9 \(\w+\): set transport\.multicastInterface/,
  );
});
