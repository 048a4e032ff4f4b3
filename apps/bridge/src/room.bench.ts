// A full room on one bridge: 64 stations at 60 samples a second, each recorded, none lost.
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readRecording } from '@stillprop/contracts';
import { standInText } from '@stillprop/links';
import type { Ratio } from '../../../.tools/sideBySide.js';
import { startRoom } from './bridge.js';
import { climbSample } from './climb.fixture.js';
import { startSender } from './sender.fixture.js';
import { demoBundle, demoLink } from './testing.fixture.js';

const STATIONS = 64;
const RATE_HZ = 60;
const FLIGHT_S = 30;

export default async function room(): Promise<Ratio[]> {
  const dataDir = mkdtempSync(join(tmpdir(), 'stillprop-room-'));
  const stations = Array.from({ length: STATIONS }, (_, index) => ({ station: `${index}`, links: [demoLink(1)] }));
  const started = await startRoom({ stations, serverUrl: null, dataDir });
  const arm = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: null } as const;
  for (const station of started.stations) await station.command(arm);
  const ports = started.stations.map((station) => station.linkAddress()?.port ?? 0);
  const messages = Array.from({ length: FLIGHT_S * RATE_HZ }, (_, index) => standInText(climbSample(index / RATE_HZ)));

  const sender = await startSender();
  const before = process.cpuUsage();
  await sender.rounds(messages, ports, RATE_HZ);
  const { user, system } = process.cpuUsage(before);
  await new Promise((resolve) => setTimeout(resolve, 1000));
  for (const station of started.stations) await station.command({ command: 'stop' });
  const outbox = join(dataDir, 'outbox');
  while (readdirSync(outbox).length < STATIONS) await new Promise((resolve) => setTimeout(resolve, 50));
  let recorded = 0;
  for (const name of readdirSync(outbox)) {
    const read = readRecording(readFileSync(join(outbox, name), 'utf8'));
    if (read.ok) recorded += read.recording.samples.length;
  }
  await started.close();
  await sender.close();
  rmSync(dataDir, { recursive: true });
  return [
    {
      name: `samples recorded by a room of ${STATIONS} stations at ${RATE_HZ} Hz / samples sent`,
      ratio: recorded / (STATIONS * messages.length),
      goal: 1,
      better: 'higher',
    },
    {
      name: `processor time of that room, its sender included / time (cores in use)`,
      ratio: (user + system) / 1e6 / FLIGHT_S,
      goal: 2,
      better: 'lower',
    },
  ];
}
