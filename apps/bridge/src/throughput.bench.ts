// Datagrams a second through a link, socket to sample, against a bare socket that only counts them.
import { createSocket } from 'node:dgram';
import { LinkProfile } from '@stillprop/contracts';
import { standInText } from '@stillprop/links';
import type { Ratio } from '../../../.tools/sideBySide.js';
import { climbSample } from './climb.fixture.js';
import { openLink } from './link.js';
import { type Sender, startSender } from './sender.fixture.js';
import { demoLink } from './testing.fixture.js';

/** So many lie in the socket at once: few enough for any system's receive buffer. */
const BURST = 200;
const ROUNDS = 201;
const WARM_UP = 150;

/** Doubles in this order, behind four bytes that tell the message: an invented layout. */
const BINARY_CHANNELS = {
  timeS: 's',
  latitudeDeg: 'deg',
  longitudeDeg: 'deg',
  altitudeFt: 'ft',
  indicatedAirspeedKt: 'kt',
  headingDeg: 'deg',
  bankDeg: 'deg',
  pitchDeg: 'deg',
  verticalSpeedFpm: 'ft/min',
  powerFraction: 'fraction',
} as const;

function binaryLink(): LinkProfile {
  const names = Object.keys(BINARY_CHANNELS);
  return LinkProfile.parse({
    schemaVersion: 1,
    id: 'binary',
    name: 'Binary',
    transport: { kind: 'udp', listenPort: 0 },
    decoder: {
      kind: 'binary',
      match: [{ offset: 0, text: 'FLYD' }],
      fields: names.map((name, index) => ({ name, offset: 4 + 8 * index, type: 'float64' })),
    },
    channels: Object.fromEntries(Object.entries(BINARY_CHANNELS).map(([name, unit]) => [name, { slot: name, unit }])),
  });
}

function binaryMessage(): Uint8Array {
  const sample = climbSample(10);
  const bytes = Buffer.alloc(4 + 8 * Object.keys(BINARY_CHANNELS).length);
  bytes.write('FLYD');
  for (const [index, name] of Object.keys(BINARY_CHANNELS).entries()) {
    bytes.writeDoubleLE(Number(sample[name as keyof typeof BINARY_CHANNELS]), 4 + 8 * index);
  }
  return bytes;
}

interface Receiver {
  readonly port: number;
  count(): number;
  close(): Promise<unknown>;
}

async function bareReceiver(): Promise<Receiver> {
  let count = 0;
  const socket = createSocket({ type: 'udp4', recvBufferSize: 4 * 1024 * 1024 });
  socket.on('message', () => {
    count += 1;
  });
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  return {
    port: socket.address().port,
    count: () => count,
    close: () => new Promise<void>((resolve) => socket.close(resolve)),
  };
}

async function linkReceiver(profile: LinkProfile): Promise<Receiver> {
  let count = 0;
  const link = await openLink([profile], {
    onSample: () => {
      count += 1;
    },
    onError: () => undefined,
  });
  return { port: link.address.port, count: () => count, close: () => link.close() };
}

/** Time (ms) in which a burst that lies in the socket is taken in. */
async function timeOf(sender: Sender, receiver: Receiver, bytes: Uint8Array): Promise<number> {
  const goal = receiver.count() + BURST;
  sender.burst(bytes, BURST, receiver.port);
  const start = performance.now();
  while (receiver.count() < goal) {
    await new Promise((resolve) => setImmediate(resolve));
    if (performance.now() - start > 10_000) throw new Error(`datagrams were lost: ${goal - receiver.count()}`);
  }
  return performance.now() - start;
}

/** Median over the rounds of the bare socket's time over the link's, turn and turn about. */
async function ratioOf(profile: LinkProfile, bytes: Uint8Array): Promise<number> {
  const sender = await startSender();
  const bare = await bareReceiver();
  const link = await linkReceiver(profile);
  const ratios: number[] = [];
  for (let round = 0; round < WARM_UP + ROUNDS; round += 1) {
    const order = round % 2 === 0 ? [bare, link] : [link, bare];
    const times = new Map<Receiver, number>();
    for (const receiver of order) times.set(receiver, await timeOf(sender, receiver, bytes));
    if (round >= WARM_UP) ratios.push((times.get(bare) ?? Number.NaN) / (times.get(link) ?? Number.NaN));
  }
  await Promise.all([sender.close(), bare.close(), link.close()]);
  return ratios.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] as number;
}

export default async function throughput(): Promise<Ratio[]> {
  return [
    {
      name: 'datagrams of text a second through a link / counted by a bare socket',
      ratio: await ratioOf(demoLink(1), standInText(climbSample(10))),
      goal: 0.5,
      better: 'higher',
    },
    {
      name: 'binary datagrams a second through a link / counted by a bare socket',
      ratio: await ratioOf(binaryLink(), binaryMessage()),
      goal: 0.7,
      better: 'higher',
    },
  ];
}
