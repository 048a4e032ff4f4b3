// Starts single parts of the program on free ports, so that tests can kill and restart each.
import { type ChildProcess, fork } from 'node:child_process';
import { createSocket } from 'node:dgram';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { LinkProfile, Station, StationAnswer, UdpTransport } from '@stillprop/contracts';
import { z } from 'zod';
import { ROOT, until } from './command.js';

const BIN = join(ROOT, 'apps/cli/bin/stillprop.mjs');
const SHELF = join(ROOT, 'fixtures');

export interface TestPart {
  readonly process: ChildProcess;
  readonly details: Record<string, string | number>;
  /** Ends it with a signal and waits until it is gone. */
  end(signal?: NodeJS.Signals): Promise<void>;
}

export function startTestPart(name: string, words: readonly string[]): Promise<TestPart> {
  const child = fork(BIN, ['part', name, ...words], { stdio: ['ignore', 'ignore', 'pipe', 'ipc'], execArgv: [] });
  let told = '';
  child.stderr?.on('data', (chunk: Buffer) => {
    told += chunk.toString();
  });
  return new Promise((resolve, reject) => {
    child.once('exit', (code) => reject(new Error(`${name} ended at once (${code}): ${told}`)));
    child.once('message', (message: { type: string; message?: string; details?: Record<string, string | number> }) => {
      if (message.type !== 'ready') return reject(new Error(message.message));
      resolve({
        process: child,
        details: message.details ?? {},
        end: (signal = 'SIGTERM') =>
          new Promise((gone) => {
            if (child.exitCode !== null || child.signalCode !== null) return gone();
            child.once('exit', () => gone());
            child.kill(signal);
          }),
      });
    });
  });
}

/** A UDP port that was free a moment ago. */
export async function freePort(): Promise<number> {
  const socket = createSocket('udp4');
  await new Promise<void>((resolve) => socket.bind(0, '127.0.0.1', resolve));
  const { port } = socket.address();
  await new Promise<void>((resolve) => socket.close(resolve));
  return port;
}

/** A whole chain in a folder, each part startable by itself; several may share one server under names of their own. */
export async function testChain(dir: string, station = 'test') {
  const telemetry = await freePort();
  const command = await freePort();
  const shipped = LinkProfile.parse(JSON.parse(readFileSync(join(SHELF, 'links/stand-in-text.json'), 'utf8')));
  const link: LinkProfile = {
    ...shipped,
    transport: UdpTransport.parse({ ...shipped.transport, listenPort: telemetry }),
    ...(shipped.commands && { commands: { ...shipped.commands, port: command } }),
  };
  const linkPath = join(dir, 'link.json');
  writeFileSync(linkPath, JSON.stringify(link));
  return {
    station,
    linkId: link.id,
    startDebrief: (port = 0) =>
      startTestPart('debrief', ['--port', String(port), '--data', join(dir, 'debrief'), '--catalogue', SHELF]),
    startBridge: (server: string) =>
      startTestPart('bridge', [
        '--station',
        station,
        '--data',
        join(dir, 'bridge'),
        '--server',
        server,
        '--link',
        linkPath,
      ]),
    startBench: () =>
      startTestPart('bench', ['--port', String(command), '--to', `text:${telemetry}`, '--catalogue', SHELF]),
    command: async (server: string, body: object): Promise<StationAnswer> => {
      const response = await fetch(`${server}/api/stations/${station}/commands`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(body),
      });
      const answer: unknown = await response.json();
      if (!response.ok) throw new Error(JSON.stringify(answer));
      return StationAnswer.parse(answer);
    },
    stationOf: async (server: string): Promise<Station | undefined> =>
      z
        .array(Station)
        .parse(await (await fetch(`${server}/api/stations`)).json())
        .find((one) => one.station === station),
  };
}
export type TestChain = Awaited<ReturnType<typeof testChain>>;

/** Waits until the station is connected and its samples come in. */
export async function receiving(chain: TestChain, server: string): Promise<void> {
  await until('samples', 20_000, async () => {
    const station = await chain.stationOf(server);
    return station?.connected && station.live?.link.state === 'receiving' ? true : undefined;
  });
}

/** Arms, begins a stand-in flight at 20 times real time, and waits until the engine has failed. */
export async function flyToFailure(chain: TestChain, server: string, speed = 20): Promise<string> {
  await receiving(chain, server);
  const scenario = { scenarioId: 'first-turn-back', linkId: chain.linkId };
  const armed = await chain.command(server, { command: 'arm', ...scenario, student: null });
  await chain.command(server, { command: 'begin', ...scenario, pilot: 'prompt', seed: 7, speed });
  await until('the failure', 60_000, async () => {
    const station = await chain.stationOf(server);
    return station?.live?.exercise.state === 'watching' ? true : undefined;
  });
  if (armed.attemptId === null) throw new Error(armed.message);
  return armed.attemptId;
}
