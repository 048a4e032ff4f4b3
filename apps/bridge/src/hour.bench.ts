// Memory over an hour of traffic, sent as fast as it is taken: one attempt after another, a sample every 50 ms of flight.
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { standInText } from '@stillprop/links';
import type { Ratio } from '../../../.tools/sideBySide.js';
import { startBridge } from './bridge.js';
import { climbSample } from './climb.fixture.js';
import { startSender } from './sender.fixture.js';
import { demoBundle, demoLink } from './testing.fixture.js';

const RATE_HZ = 20;
const ATTEMPTS = 30;
const ATTEMPT_S = 120;
const BURST = 100;
/** Attempts after which everything is loaded and compiled. */
const SETTLED = 5;

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

export default async function hour(): Promise<Ratio[]> {
  const dataDir = mkdtempSync(join(tmpdir(), 'stillprop-hour-'));
  const sender = await startSender();
  const bridge = await startBridge({ station: 'Station 1', links: [demoLink(1)], serverUrl: null, dataDir });
  const port = bridge.linkAddress()?.port ?? 0;
  const arm = { command: 'arm', bundle: demoBundle(), linkId: 'stand-in-text', student: null } as const;
  let sent = 0;
  let settledBytes = Number.NaN;
  for (let attempt = 1; attempt <= ATTEMPTS; attempt += 1) {
    await bridge.command(arm);
    for (let index = 0; index < ATTEMPT_S * RATE_HZ; index += 1) {
      sender.burst(standInText(climbSample(index / RATE_HZ)), 1, port);
      sent += 1;
      if (sent % BURST === 0) while (bridge.live().link.received < sent) await soon();
    }
    await bridge.command({ command: 'stop' });
    while (bridge.live().outboxWaiting < attempt) await soon();
    collectGarbage();
    if (attempt === SETTLED) settledBytes = process.memoryUsage().heapUsed;
  }
  const { heapUsed } = process.memoryUsage();
  const recordings = readdirSync(join(dataDir, 'outbox')).length;
  await bridge.close();
  await sender.close();
  rmSync(dataDir, { recursive: true });
  if (recordings !== ATTEMPTS) throw new Error(`${ATTEMPTS} attempts made ${recordings} recordings`);
  return [
    {
      name: `memory of a bridge after an hour of traffic (${ATTEMPTS} attempts) / after ${SETTLED} attempts`,
      ratio: heapUsed / settledBytes,
      goal: 1.05,
      better: 'lower',
    },
  ];
}

const soon = () => new Promise<void>((resolve) => setTimeout(resolve, 1));
