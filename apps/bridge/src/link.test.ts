// The socket of a link: who is let in, what is counted, on real loopback sockets.
import { createSocket } from 'node:dgram';
import { type Sample, UdpTransport } from '@stillprop/contracts';
import { standInText } from '@stillprop/links';
import { expect, onTestFinished, test, vi } from 'vitest';
import { type Link, openLink } from './link.js';
import { demoLink, demoSample, until } from './testing.fixture.js';

const ahead = vi.hoisted(() => ({ byS: 0 }));
vi.mock('./clock.js', async (original) => {
  const { nowS } = await original<typeof import('./clock.js')>();
  return { nowS: () => nowS() + ahead.byS };
});

async function opened(allowedSenders: string[] = ['127.0.0.1']) {
  const profile = demoLink(1);
  const samples: Sample[] = [];
  const told: [number, string][] = [];
  const link = await openLink(
    [{ ...profile, transport: UdpTransport.parse({ ...profile.transport, allowedSenders }) }],
    {
      onSample: (sample) => samples.push(sample),
      onError: () => undefined,
      onRefusing: (count, reason) => told.push([count, reason]),
    },
  );
  const socket = createSocket('udp4');
  onTestFinished(async () => {
    socket.close();
    await link.close();
  });
  const send = (bytes: Uint8Array | string) => socket.send(bytes, link.address.port, '127.0.0.1');
  return { link, samples, told, send };
}
const refusals = (link: Link) => Object.values(link.status().refused).reduce((sum, count) => sum + count, 0);

test('samples come through, refusals are counted by reason', async () => {
  const { link, samples, send } = await opened();
  expect(link.status()).toMatchObject({ state: 'silent', received: 0 });
  send(standInText(demoSample(1)));
  send('hello');
  send(new Uint8Array([0xff]));
  send('SP1,1,52');
  send('SP1,x');
  send(new Uint8Array(20_000));
  await until(() => refusals(link) === 5 && samples.length === 1);
  expect(link.status()).toMatchObject({
    state: 'receiving',
    received: 5,
    refused: {
      'no-sample': 1,
      'not-text': 1,
      'missing-channel longitudeDeg': 1,
      'not-a-number timeS': 1,
      'too-large': 1,
    },
  });
  expect(samples[0]?.timeS).toBe(1);
});

test('a sender that is not on the list is not read', async () => {
  const { link, samples, send } = await opened(['192.0.2.1']);
  send(standInText(demoSample(1)));
  await until(() => refusals(link) === 1);
  expect(link.status()).toMatchObject({ state: 'silent', received: 0, refused: { 'sender-not-allowed': 1 } });
  expect(samples).toEqual([]);
});

test('datagrams of which none is read are told with their number and the reason of the first', async () => {
  const { link, samples, told, send } = await opened();
  expect(link.status()).not.toHaveProperty('refusing');
  send('SP1,1,52');
  await until(() => refusals(link) === 1);
  for (let i = 0; i < 11; i++) send('hello');
  await until(() => refusals(link) === 12);
  const reason = 'channel longitudeDeg is missing: check its slot in the link profile';
  expect(link.status()).toMatchObject({ state: 'silent', received: 12, refusing: { count: 12, reason } });
  expect(told).toEqual([
    [1, reason],
    [10, reason],
  ]);
  send(standInText(demoSample(1)));
  await until(() => samples.length === 1);
  send('hello');
  await until(() => refusals(link) === 13);
  expect(link.status().state).toBe('receiving');
  expect(link.status()).not.toHaveProperty('refusing');
  expect(told).toHaveLength(2);
});

test('refused datagrams that came a while ago are only counted: now none arrive', async () => {
  const { link, send } = await opened();
  send('hello');
  await until(() => refusals(link) === 1);
  expect(link.status()).toHaveProperty('refusing');
  onTestFinished(() => {
    ahead.byS = 0;
  });
  ahead.byS = 6;
  expect(link.status()).toMatchObject({ state: 'silent', refused: { 'no-sample': 1 } });
  expect(link.status()).not.toHaveProperty('refusing');
});

test('a sender that is not on the list is named', async () => {
  const { link, told, send } = await opened(['192.0.2.1']);
  send(standInText(demoSample(1)));
  await until(() => refusals(link) === 1);
  expect(told).toEqual([[1, 'it comes from 127.0.0.1, which is not among the allowedSenders of the link profile']]);
});

test('of two computers that send the same form to one port, the first is followed while it speaks', async () => {
  const { link, samples, send } = await opened(['127.0.0.1', '127.0.0.2']);
  const other = createSocket('udp4');
  await new Promise<void>((resolve) => other.bind(0, '127.0.0.2', resolve));
  onTestFinished(() => void other.close());
  const sendOther = (timeS: number) => other.send(standInText(demoSample(timeS)), link.address.port, '127.0.0.1');
  send(standInText(demoSample(1)));
  await until(() => samples.length === 1);
  sendOther(501);
  await until(() => refusals(link) === 1);
  send(standInText(demoSample(2)));
  await until(() => samples.length === 2);
  expect(samples.map(({ timeS }) => timeS)).toEqual([1, 2]);
  expect(link.status().refused).toEqual({ 'other-sender': 1 });
  // Silent for as long as a simulator takes to start anew, it is another's turn.
  ahead.byS += 3;
  sendOther(502);
  await until(() => samples.length === 3);
  expect(samples[2]?.timeS).toBe(502);
});
