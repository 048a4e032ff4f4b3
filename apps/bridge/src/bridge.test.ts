// The bridge as a whole, over real sockets: an attempt from arming to the server's receipt, with and without a server.
import { randomUUID } from 'node:crypto';
import { createSocket } from 'node:dgram';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { type Recording, readRecording, recordingLine } from '@stillprop/contracts';
import { describe, expect, onTestFinished, test } from 'vitest';
import { type Bridge, type BridgeOptions, startBridge } from './bridge.js';
import { fakeServer } from './fakeServer.fixture.js';
import { fakeSimulator } from './fakeSimulator.fixture.js';
import { demoBundle, demoHeader, demoLink, demoSample, temporaryFolder, until } from './testing.fixture.js';

const ARM = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: 'Robin Alder' } as const;
const BEGIN = {
  command: 'begin',
  linkId: 'stand-in-text',
  scenarioId: 'first-turn-back',
  pilot: 'prompt',
  seed: 7,
  speed: 20,
} as const;

async function started(options: Partial<BridgeOptions>): Promise<Bridge> {
  const bridge = await startBridge({
    station: 'Station 1',
    links: [],
    serverUrl: null,
    dataDir: temporaryFolder(),
    ...options,
  });
  onTestFinished(() => bridge.close());
  return bridge;
}

async function withSimulator(options: Partial<BridgeOptions> = {}) {
  const simulator = await fakeSimulator();
  const bridge = await started({ links: [demoLink(simulator.commandPort)], ...options });
  simulator.sendTo(bridge.linkAddress()?.port ?? 0);
  await until(() => bridge.live().link.state === 'receiving');
  return { simulator, bridge };
}

function recordingIn(folder: string): Recording {
  const [name = ''] = readdirSync(folder).filter((each) => each.endsWith('.ndjson'));
  const read = readRecording(readFileSync(join(folder, name), 'utf8'));
  if (!read.ok) throw new Error(read.problem.message);
  return read.recording;
}

test('shows what the simulator does before anything is armed', async () => {
  const { bridge } = await withSimulator();
  const live = bridge.live();
  expect(live).toMatchObject({ station: 'Station 1', attemptId: null, heightFt: 0, alongFt: null, alarm: null });
  expect(live.exercise).toMatchObject({ state: 'idle', text: 'Nothing is armed.' });
});

test('an attempt asked for by the server is flown, failed, recorded and handed over', async () => {
  const server = await fakeServer();
  const dataDir = temporaryFolder();
  const { simulator, bridge } = await withSimulator({ serverUrl: server.url, dataDir });
  await until(() => server.messages.length > 0);
  expect(server.messages[0]).toMatchObject({
    type: 'hello',
    station: 'Station 1',
    links: [{ id: 'stand-in-text', missing: [] }],
  });
  server.do('1', ARM);
  server.do('2', BEGIN);
  await until(() => server.posts.length > 0);

  expect(Math.abs((simulator.powerFellAtFt ?? 0) - 300)).toBeLessThan(10);
  const [post] = server.posts;
  expect(post).toMatchObject({ type: 'application/x-ndjson', claimed: post?.sha256 });
  const read = readRecording(post?.text ?? '');
  if (!read.ok) throw new Error(read.problem.message);
  const { header, events, samples, end } = read.recording;
  expect(header).toMatchObject({ station: 'Station 1', student: 'Robin Alder', drawn: { heightFt: 300 } });
  expect(events.map(({ code }) => code)).toEqual([
    'armed',
    'lift-off',
    'fail-commanded',
    'power-fell',
    'contact',
    'closed',
  ]);
  expect(end).toMatchObject({ reason: 'stopped', samples: samples.length });
  const fell = events.find(({ code }) => code === 'power-fell')?.figures;
  expect(Math.abs((fell?.heightFt ?? 0) - (simulator.powerFellAtFt ?? 0))).toBeLessThan(5);

  await until(() => bridge.live().outboxWaiting === 0);
  expect(readdirSync(join(dataDir, 'outbox'))).toEqual([]);
  expect(readdirSync(join(dataDir, 'recordings'))).toEqual([]);
  expect(bridge.live().lastClosed).toMatchObject({ attemptId: header.attemptId, reason: 'stopped' });
  expect(server.posts).toHaveLength(1);
  expect(server.wrong).toEqual([]);
  const answers = server.messages.filter(({ type }) => type === 'answer');
  expect(answers).toMatchObject([
    { id: '1', ok: true, attemptId: header.attemptId },
    { id: '2', ok: true },
  ]);
  const states = () =>
    server.messages.flatMap((message) => (message.type === 'live' ? [message.live.exercise.state] : []));
  await until(() => states().includes('closed'));
  expect(states()).toEqual(expect.arrayContaining(['idle', 'armed', 'climbing', 'watching']));
});

test('a recording made while the server is away arrives once when it comes back', async () => {
  const port = await freePort();
  const dataDir = temporaryFolder();
  const { simulator, bridge } = await withSimulator({ serverUrl: `http://127.0.0.1:${port}`, dataDir });
  const { attemptId } = await bridge.command(ARM);
  await bridge.command(BEGIN);
  await until(() => simulator.powerFellAtFt !== null);
  expect((await bridge.command({ command: 'stop' })).ok).toBe(true);
  await until(() => bridge.live().outboxWaiting === 1);
  const server = await fakeServer(port);
  await until(() => bridge.live().outboxWaiting === 0);
  expect(server.posts.map(({ text }) => JSON.parse(text.split('\n')[0] ?? '').attemptId)).toEqual([attemptId]);
});

test('without a server the recording stays in the outbox', async () => {
  const dataDir = temporaryFolder();
  const { bridge } = await withSimulator({ dataDir });
  await bridge.command(ARM);
  await bridge.command({ command: 'stop' });
  await until(() => bridge.live().outboxWaiting === 1);
  expect(recordingIn(join(dataDir, 'outbox')).end).toMatchObject({ reason: 'instructor' });
});

test('samples and events are on the disk while the attempt goes on', async () => {
  const dataDir = temporaryFolder();
  const { simulator, bridge } = await withSimulator({ dataDir });
  await bridge.command(ARM);
  await bridge.command(BEGIN);
  await until(() => simulator.powerFellAtFt !== null);
  const folder = join(dataDir, 'recordings');
  await until(() => recordingIn(folder).events.some(({ code }) => code === 'power-fell'));
  const { samples, end } = recordingIn(folder);
  expect(end).toBeNull();
  expect(samples.length).toBeGreaterThan(50);
  expect(samples.at(-1)?.heightFt).toBeGreaterThan(250);
});

test('closing in the middle of an attempt ends it as interrupted', async () => {
  const dataDir = temporaryFolder();
  const { bridge } = await withSimulator({ dataDir });
  await bridge.command(ARM);
  await bridge.close();
  const { events, end } = recordingIn(join(dataDir, 'outbox'));
  expect(events.map(({ code }) => code)).toEqual(['armed', 'closed']);
  expect(end?.reason).toBe('interrupted');
});

test('what a crash left is handed over at the next start', async () => {
  const dataDir = temporaryFolder();
  const attemptId = randomUUID();
  mkdirSync(join(dataDir, 'recordings'), { recursive: true });
  const whole = recordingLine(demoHeader(attemptId)) + recordingLine({ kind: 'sample', ...demoSample(1) });
  writeFileSync(join(dataDir, 'recordings', `${attemptId}.ndjson`), `${whole}{"kind":"sample","timeS":2,"lat`);
  const server = await fakeServer();
  await started({ serverUrl: server.url, dataDir });
  await until(() => server.posts.length > 0);
  const read = readRecording(server.posts[0]?.text ?? '');
  expect(read).toMatchObject({
    ok: true,
    recording: { samples: [{ timeS: 1 }], end: { reason: 'interrupted', samples: 1 } },
  });
});

describe('what cannot be done is an answer', () => {
  test('arming twice, an unknown link, and words without an attempt', async () => {
    const { bridge } = await withSimulator();
    for (const command of ['stop', 'fail-now'] as const) {
      expect(await bridge.command({ command })).toEqual({ ok: false, message: 'Nothing is armed.', attemptId: null });
    }
    expect((await bridge.command({ ...ARM, linkId: 'nowhere' })).message).toBe(
      'linkId must be one of stand-in-text, got "nowhere".',
    );
    expect((await bridge.command(ARM)).ok).toBe(true);
    expect((await bridge.command(ARM)).message).toBe('An attempt is under way: stop it first.');
    expect((await bridge.command({ command: 'fail-now' })).message).toMatch(/never on the ground/);
    expect((await bridge.command({ ...BEGIN, pilot: 'nobody' })).message).toMatch(/^pilot must be one of prompt,/);
  });
  test('a link without a command that fails the engine', async () => {
    const { commands: _, ...mute } = demoLink(1);
    const bridge = await started({ links: [mute] });
    expect(await bridge.command(ARM)).toMatchObject({
      ok: false,
      message: expect.stringMatching(/^a total failure needs a link/),
    });
    expect(await bridge.command({ command: 'reset' })).toMatchObject({
      ok: false,
      message: 'link "stand-in-text" has no command "reset".',
    });
  });
});

test('commands go out as the profile writes them', async () => {
  const { simulator, bridge } = await withSimulator();
  const answers = [
    await bridge.command({ command: 'reset' }),
    await bridge.command({ command: 'restore' }),
    await bridge.command(BEGIN),
  ];
  // A simulator answers nothing: only what was sent is known.
  expect(answers.map(({ message }) => message)).toEqual([
    'The simulator was asked to reset.',
    'The simulator was asked to restore the power.',
    'The stand-in was told to begin with pilot prompt.',
  ]);
  await until(() => simulator.commands.length === 3);
  expect(simulator.commands).toEqual([
    'RESET',
    'RESTORE',
    'BEGIN scenario=first-turn-back pilot=prompt seed=7 speed=20',
  ]);
});

test('a simulator that does not obey raises an alarm, which ends when it obeys after all', async () => {
  const { simulator, bridge } = await withSimulator();
  simulator.obeys = false;
  await bridge.command(ARM);
  await bridge.command(BEGIN);
  await until(() => bridge.live().exercise.state === 'disobeyed');
  expect(bridge.live().alarm).toMatch(/did not obey: power did not fall after 4 commands/);
  expect(simulator.commands.filter((text) => text.startsWith('FAIL'))).toHaveLength(4);
  simulator.losePower();
  await until(() => bridge.live().exercise.text === 'Engine failed.');
  expect(bridge.live().alarm).toBeNull();
});

test('a disk that refuses raises an alarm, the exercise goes on, and nothing is lost', {
  timeout: 20_000,
}, async () => {
  const dataDir = temporaryFolder();
  const { simulator, bridge } = await withSimulator({ dataDir });
  rmSync(join(dataDir, 'recordings'), { recursive: true });
  writeFileSync(join(dataDir, 'recordings'), 'no folder');
  await bridge.command(ARM);
  await bridge.command(BEGIN);
  await until(() => simulator.powerFellAtFt !== null);
  expect(bridge.live().alarm).toMatch(/^The recording cannot be written/);
  rmSync(join(dataDir, 'recordings'));
  mkdirSync(join(dataDir, 'recordings'));
  await until(() => bridge.live().outboxWaiting === 1);
  expect(bridge.live().alarm).toBeNull();
  const { events, samples, end } = recordingIn(join(dataDir, 'outbox'));
  expect(events[0]?.code).toBe('armed');
  expect(end?.samples).toBe(samples.length);
});

test('while a recording cannot be written, no further attempt is armed', async () => {
  const dataDir = temporaryFolder();
  const { bridge } = await withSimulator({ dataDir });
  rmSync(join(dataDir, 'recordings'), { recursive: true });
  await bridge.command(ARM);
  await bridge.command({ command: 'stop' });
  await until(() => bridge.live().alarm !== null);
  expect(await bridge.command(ARM)).toMatchObject({
    ok: false,
    message: 'The last recording cannot be written to the disk yet: mend that first.',
  });
  mkdirSync(join(dataDir, 'recordings'));
  await until(() => bridge.live().outboxWaiting === 1);
  expect((await bridge.command(ARM)).ok).toBe(true);
});

test('armed on datagrams that are all refused, it says so and why, on the page and in the log', async () => {
  const lines: string[] = [];
  const bridge = await started({ links: [demoLink(1)], log: (line) => lines.push(line) });
  await bridge.command(ARM);
  const socket = createSocket('udp4');
  onTestFinished(() => {
    socket.close();
  });
  for (let i = 0; i < 3; i++) socket.send('XX,1,2', bridge.linkAddress()?.port ?? 0, '127.0.0.1');
  await until(() => bridge.live().link.received === 3);
  const why = 'no line in it is one that the link profile reads: check its prefix';
  expect(bridge.live().exercise).toEqual({
    state: 'armed',
    text: 'Data arrive, but every datagram is refused.',
    next: `Refused: 3. The first: ${why}.`,
  });
  expect(lines.filter((line) => line.includes('refused'))).toEqual([
    `link stand-in-text: a datagram is refused and no sample is read: ${why}`,
  ]);
});

test('an address in use is an alarm, and the bridge starts all the same and listens when it is free', async () => {
  const first = await started({ links: [demoLink(1)] });
  const taken = demoLink(1);
  const transport = { ...taken.transport, listenPort: first.linkAddress()?.port ?? 0 };
  const second = await started({ links: [{ ...taken, transport }] });
  expect(second.live().link.state).toBe('closed');
  expect(second.live().alarm).toMatch(/cannot listen on 127\.0\.0\.1 port \d+/);
  expect(second.linkProblem()).toMatch(/is used by another program: .*transport\.listenPort/);
  expect((await second.command(ARM)).ok).toBe(false);
  await first.close();
  await until(() => second.linkAddress() !== null);
  expect(second.linkProblem()).toBeNull();
  expect(second.live().alarm).toBeNull();
});

test('an address of another computer is said to be so', async () => {
  const elsewhere = demoLink(1);
  // 192.0.2.0/24 is kept for documentation (RFC 5737): no computer has an address of it.
  const transport = { ...elsewhere.transport, listenHost: '192.0.2.9' };
  const bridge = await started({ links: [{ ...elsewhere, transport }] });
  expect(bridge.linkProblem()).toMatch(/192\.0\.2\.9 is no address of this computer: .*transport\.listenHost/);
});

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as { port: number };
  await new Promise((resolve) => server.close(resolve));
  return port;
}
