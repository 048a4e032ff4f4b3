// Failures where a simulator has no command for them, the pause, and the power given back: as the simulator sees them.
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type LinkCommands, readRecording } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { startBridge } from './bridge.js';
import { fakeSimulator } from './fakeSimulator.fixture.js';
import { demoBundle, demoLink, temporaryFolder, until } from './testing.fixture.js';

const ARM = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: null } as const;
const BEGIN = { command: 'begin', linkId: 'stand-in-text', scenarioId: 'first-turn-back', pilot: 'prompt' } as const;
const TAKE_OFF = 'BEGIN scenario={scenarioId} pilot={pilot} seed={seed} speed={speed}';

async function flying(commands: Partial<LinkCommands>) {
  const simulator = await fakeSimulator();
  const dataDir = temporaryFolder();
  mkdirSync(dataDir, { recursive: true });
  const { commandPort } = simulator;
  const link = demoLink(commandPort, {
    commands: { host: '127.0.0.1', port: commandPort, begin: TAKE_OFF, ...commands },
  });
  const bridge = await startBridge({ station: 'Station 1', links: [link], serverUrl: null, dataDir });
  onTestFinished(() => bridge.close());
  simulator.sendTo(bridge.linkAddress()?.port ?? 0);
  await until(() => bridge.live().link.state === 'receiving');
  const ended = async () => {
    await bridge.command({ command: 'stop' });
    await until(() => bridge.live().outboxWaiting === 1);
    const [name = ''] = readdirSync(join(dataDir, 'outbox'));
    const read = readRecording(readFileSync(join(dataDir, 'outbox', name), 'utf8'));
    if (!read.ok) throw new Error(read.problem.message);
    return read.recording;
  };
  return { simulator, bridge, ended };
}

test('the throttle is closed by its own command, and the recording says so', async () => {
  const { simulator, bridge, ended } = await flying({
    throttle: 'FAIL lever={throttleFraction}',
    noFailureCommand: 'cut-throttle',
  });
  expect((await bridge.command(ARM)).ok).toBe(true);
  await bridge.command(BEGIN);
  await until(() => bridge.live().exercise.text === 'Engine failed.');
  expect(simulator.commands.filter((text) => text.startsWith('FAIL'))).toEqual(['FAIL lever=0']);
  await bridge.command({ command: 'restore' });
  await until(() => simulator.commands.at(-1) === 'FAIL lever=1');
  const { events } = await ended();
  expect(events.find(({ code }) => code === 'fail-commanded')).toMatchObject({ means: 'cut-throttle' });
});

test('the instructor is told to close the throttle, until it is closed; nothing is sent', async () => {
  const { simulator, bridge, ended } = await flying({ noFailureCommand: 'by-hand' });
  expect((await bridge.command(ARM)).ok).toBe(true);
  await bridge.command(BEGIN);
  await until(() => bridge.live().alarm !== null);
  expect(bridge.live().alarm).toBe('Close the throttle now.');
  simulator.losePower();
  await until(() => bridge.live().alarm === null);
  expect(await bridge.command({ command: 'restore' })).toMatchObject({ message: 'Open the throttle by hand.' });
  expect(bridge.live().alarm).toBe('Give the power back: open the throttle.');
  const { events } = await ended();
  expect(bridge.live().alarm).toBeNull();
  expect(events.find(({ code }) => code === 'fail-commanded')).toMatchObject({ means: 'by-hand' });
  expect(simulator.commands).toHaveLength(1);
});

test('a pause is asked for as the profile writes it, and refused where it has none', async () => {
  const { simulator, bridge } = await flying({ pause: 'HOLD' });
  expect(await bridge.command({ command: 'pause' })).toMatchObject({ ok: true });
  await until(() => simulator.commands.includes('HOLD'));
  const other = await flying({});
  expect(await other.bridge.command({ command: 'pause' })).toMatchObject({
    ok: false,
    message: 'link "stand-in-text" has no command "pause".',
  });
});

test('without a command to restore, the power is given back by the one that sets it', async () => {
  const { simulator, bridge } = await flying({ setPower: 'POWER {powerFraction}' });
  expect(await bridge.command({ command: 'restore' })).toMatchObject({ ok: true });
  await until(() => simulator.commands.includes('POWER 1'));
});
