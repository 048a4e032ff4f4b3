// The stand-in over real loopback sockets: samples out in both formats, commands in.
import { createSocket, type Socket } from 'node:dgram';
import { readFileSync } from 'node:fs';
import { LinkProfile, type Sample } from '@stillprop/contracts';
import { createDecoder } from '@stillprop/links';
import { afterEach, expect, test } from 'vitest';
import { NO_FAULTS } from './faultyWire.js';
import { type Bench, startBench } from './startBench.js';

const fixtures = new URL('../../../fixtures/', import.meta.url);
const profile = (format: string) =>
  LinkProfile.parse(JSON.parse(readFileSync(new URL(`links/stand-in-${format}.json`, fixtures), 'utf8')));

const open: { socket: Socket[]; bench: Bench[] } = { socket: [], bench: [] };
afterEach(async () => {
  for (const bench of open.bench.splice(0)) await bench.close();
  for (const socket of open.socket.splice(0)) socket.close();
});

async function listener(format: 'text' | 'json'): Promise<{ port: number; samples: Sample[]; refused: string[] }> {
  const socket = createSocket('udp4');
  open.socket.push(socket);
  const decode = createDecoder(profile(format));
  const heard = { port: 0, samples: [] as Sample[], refused: [] as string[] };
  socket.on('message', (bytes) => {
    const decoded = decode(bytes);
    if (decoded.ok) heard.samples.push(...decoded.samples);
    else heard.refused.push(decoded.code);
  });
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  heard.port = socket.address().port;
  return heard;
}

async function until(done: () => boolean, withinMs = 15_000): Promise<void> {
  const giveUpAt = Date.now() + withinMs;
  while (!done()) {
    if (Date.now() > giveUpAt) throw new Error('waited in vain');
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

test('samples arrive in both formats, and a flight is begun, failed and restored by command', {
  timeout: 30_000,
}, async () => {
  const text = await listener('text');
  const json = await listener('json');
  const logged: string[] = [];
  const bench = await startBench({
    catalogueDirs: [fixtures.pathname],
    commandPort: 0,
    targets: [
      { format: 'text', host: '127.0.0.1', port: text.port },
      { format: 'json', host: '127.0.0.1', port: json.port },
    ],
    rateHz: 20,
    faults: NO_FAULTS,
    log: (line) => logged.push(line),
  });
  open.bench.push(bench);
  const sender = createSocket('udp4');
  open.socket.push(sender);
  const send = (command: string) => sender.send(command, bench.commandPort, '127.0.0.1');

  await until(() => text.samples.length > 3 && json.samples.length > 3);
  expect(text.samples[0]).toMatchObject({ onGround: true, heightFt: 0 });

  send('NONSENSE');
  send('BEGIN scenario=nowhere');
  await until(() => logged.length === 2);
  expect(logged[1]).toMatch(/scenarioId must be one of .*, got "nowhere"/);

  send('BEGIN scenario=first-turn-back pilot=prompt seed=1 speed=20');
  await until(() => (text.samples.at(-1)?.heightFt ?? 0) > 500);
  send('FAIL propeller=coarse');
  await until(() => text.samples.at(-1)?.powerFraction === 0 || (text.samples.at(-1)?.powerFraction ?? 1) < 0.02);
  send('RESTORE');
  await until(() => (text.samples.at(-1)?.powerFraction ?? 0) > 0.98);

  expect(text.refused).toEqual([]);
  expect(json.refused).toEqual([]);
  // The same moment in both formats is the same sample, within what the text rounds away.
  const moment = text.samples[Math.floor(text.samples.length / 2)] as Sample;
  const twin = json.samples.find((sample) => Math.abs(sample.timeS - moment.timeS) < 0.002) as Sample;
  for (const [name, value] of Object.entries(moment)) {
    const other = twin[name as keyof Sample];
    if (typeof value === 'number') expect(Math.abs((other as number) - value), name).toBeLessThan(0.1);
    else expect(other, name).toBe(value);
  }
});

test('a rate out of range and a port in use are refused in one sentence', async () => {
  const options = {
    catalogueDirs: [fixtures.pathname],
    commandPort: 0,
    targets: [],
    rateHz: 20,
    faults: NO_FAULTS,
    log: () => {},
  };
  await expect(startBench({ ...options, rateHz: 500 })).rejects.toThrow('rateHz must be 5 to 100, got 500');
  const first = await startBench(options);
  open.bench.push(first);
  await expect(startBench({ ...options, commandPort: first.commandPort })).rejects.toThrow(
    `UDP port ${first.commandPort} is in use: is a stand-in running already?`,
  );
});
