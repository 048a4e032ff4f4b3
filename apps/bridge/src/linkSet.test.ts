// Several links of one aeroplane over real sockets: one stream of samples, what is lacking in words, what opens together.
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { type AddressInfo, createServer, type Socket } from 'node:net';
import { LinkProfile, LinkTransport, type Sample } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { WebSocket } from 'ws';
import { openLink } from './link.js';
import { linkOffer } from './linkOffer.js';
import { until } from './testing.fixture.js';

const example = (name: string, transport: object = {}) => {
  const url = new URL(`../../../fixtures/links/${name}.json`, import.meta.url);
  const profile = LinkProfile.parse(JSON.parse(readFileSync(url, 'utf8')));
  return { ...profile, transport: LinkTransport.parse({ ...profile.transport, ...transport }) };
};

/** A simulator on TCP, which sends position and takes commands; and a free port for the link that brings attitude. */
async function tcpSimulator() {
  const sockets: Socket[] = [];
  const got: string[] = [];
  const server = createServer((socket) => {
    sockets.push(socket);
    socket.on('data', (bytes) => got.push(String(bytes))).on('error', () => undefined);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => {
    for (const socket of sockets) socket.destroy();
    server.close();
  });
  return { port: (server.address() as AddressInfo).port, sockets, got };
}
async function freePort() {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}

async function opened() {
  const simulator = await tcpSimulator();
  const attitudePort = await freePort();
  const samples: Sample[] = [];
  const link = await openLink(
    [
      example('example-tcp-lines', { port: simulator.port }),
      // A value must outlast the pauses of a busy machine here; merge.test.ts holds the time itself.
      { ...example('example-second-link', { listenPort: attitudePort }), holdS: 10 },
    ],
    { onSample: (sample) => samples.push(sample), onError: () => undefined },
  );
  onTestFinished(() => link.close());
  await until(() => simulator.sockets.length === 1);
  const attitude = new WebSocket(`ws://127.0.0.1:${attitudePort}/attitude`);
  onTestFinished(() => attitude.terminate());
  await once(attitude, 'open');
  const sendPlace = (alongDeg: number) => simulator.sockets[0]?.write(`POS 52 ${-1 + alongDeg} 900 80 90\n`);
  return { link, samples, simulator, attitude, sendPlace };
}

test('the samples come in step with the leading link, with what the other one supplies and what is calculated', async () => {
  const { link, samples, simulator, attitude, sendPlace } = await opened();
  expect(link.where).toEqual([
    `connects to 127.0.0.1 port ${simulator.port}`,
    expect.stringMatching(/^listens on 127\.0\.0\.1 port \d+ \(websocket\)$/),
  ]);
  link.setWind({ fromTrueDeg: 90, speedKt: 10 });
  const attitudeCame = () => link.status().received;
  attitude.send('{"attitude":[0.5,0.1]}');
  await until(() => attitudeCame() === 1);
  for (let along = 0; samples.length < 3; along += 1) {
    sendPlace(along * 1e-4);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  const [sample] = samples;
  expect(sample?.bankDeg).toBeCloseTo(28.6479, 3); // half a radian
  expect(sample?.trueAirspeedKt).toBeCloseTo(90, 6); // 80 kt over the ground into 10 kt of wind
  expect(sample?.headingDeg).toBeCloseTo(90, 6);
  expect(link.status().state).toBe('receiving');
  link.send('fail', {});
  await until(() => simulator.got.length === 1);
  expect(simulator.got).toEqual(['FAIL ENGINE\n']);
});

test('while the other link gives nothing, the leading one makes no sample, and it says which channel lacks', async () => {
  const { link, samples, attitude, sendPlace } = await opened();
  link.setWind({ fromTrueDeg: 0, speedKt: 0 });
  const lackingBank = () => link.status().refused['lacking bankDeg'] ?? 0;
  for (let along = 0; lackingBank() === 0; along += 1) {
    sendPlace(along * 1e-4);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  expect(samples).toEqual([]);
  attitude.send('{"attitude":["x",0.1]}');
  const refusedThere = () => link.status().refused['not-a-number bankDeg (example-second-link)'];
  await until(() => refusedThere() === 1);
});

test('a link of the set that cannot be opened keeps the others shut too, and is named', async () => {
  const simulator = await tcpSimulator();
  const blocker = await tcpSimulator();
  const opening = openLink(
    [
      example('example-tcp-lines', { port: simulator.port }),
      example('example-second-link', { listenPort: blocker.port }),
    ],
    { onSample: () => undefined, onError: () => undefined },
  );
  await expect(opening).rejects.toThrow(
    /^needs link "example-second-link", which cannot listen on 127\.0\.0\.1 port \d+: .*transport\.listenPort/,
  );
  const late = () => simulator.sockets.filter((socket) => !socket.destroyed && !socket.readableEnded);
  for (const socket of simulator.sockets) socket.resume();
  await until(() => late().length === 0);
});

test('what a person must know of a set is told before the exercise', () => {
  const offer = linkOffer([example('example-tcp-lines'), example('example-second-link')]);
  expect(offer).toMatchObject({ id: 'example-tcp-lines', commands: ['fail', 'restore'] });
  expect(offer.missing).not.toContain('bankDeg');
  expect(offer.notes).toEqual(
    expect.arrayContaining([
      'Not sent: load. Load in the turn is not measured.',
      'Bank: Supplied by the link "example-second-link".',
      'Heading: Derived from groundspeed and track and a known wind.',
    ]),
  );
});

test.each([
  [{ host: '127.0.0.1', port: 1, fail: 'FAIL' }, null],
  [
    { host: '127.0.0.1', port: 1, throttle: 'T {throttleFraction}', noFailureCommand: 'cut-throttle' },
    'This simulator has no command for failures: the throttle is closed by command instead.',
  ],
  [
    { host: '127.0.0.1', noFailureCommand: 'by-hand' },
    'This simulator has no command for failures: the instructor closes the throttle when told here.',
  ],
  [undefined, 'This link has no way to fail the engine: only scenarios without a failure can be armed.'],
] as const)('how a failure is made with the commands %j is told too', (commands, note) => {
  const { commands: _, ...mute } = example('stand-in-text');
  const offer = linkOffer([{ ...mute, ...(commands === undefined ? {} : { commands }) }]);
  expect(offer.notes?.[0] ?? null).toBe(note);
  const means = commands !== undefined && 'noFailureCommand' in commands ? commands.noFailureCommand : undefined;
  expect(offer.failureMeans).toBe(means);
});
