// From a datagram in to the command out, through link, exercise and recorder, against a socket that only echoes.
import { createSocket } from 'node:dgram';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { advance, startExercise } from '@stillprop/exercise';
import { standInText } from '@stillprop/links';
import type { Ratio } from '../../../.tools/sideBySide.js';
import { climbSample } from './climb.fixture.js';
import { openLink } from './link.js';
import { planAttempt } from './planAttempt.js';
import { Recorder } from './recorder.js';
import { startSender } from './sender.fixture.js';
import { demoBundle, demoLink } from './testing.fixture.js';

const PINGS = 500;
const ROUNDS = 12;
/** All of it is flown before the height of the failure: what is measured is the sample that would be the one. */
const RATE_HZ = 120;

export default async function latency(): Promise<Ratio[]> {
  const folder = mkdtempSync(join(tmpdir(), 'stillprop-latency-'));
  const sender = await startSender();
  const echo = createSocket('udp4');
  echo.on('message', (bytes, { port }) => echo.send(bytes, port, '127.0.0.1'));
  await new Promise<void>((resolve) => echo.bind(0, '127.0.0.1', resolve));

  const profile = demoLink(sender.port);
  const arm = { command: 'arm', bundle: demoBundle(), linkId: profile.id, student: null } as const;
  const { header, setup } = planAttempt('Station 1', [profile], arm, null);
  const recorder = new Recorder(join(folder, 'one.ndjson'), { onProblem: () => undefined });
  recorder.append(header);
  const armed = { kind: 'person', command: 'arm', nowS: performance.now() / 1000 } as const;
  let { state } = advance(startExercise(setup), armed);
  const link = await openLink([profile], {
    // A failure is sent once in an attempt, before its sample is recorded; here every sample is answered as that one is.
    onSample: (sample, receivedS) => {
      const step = advance(state, { kind: 'sample', sample, receivedS });
      state = step.state;
      link.send('fail', { powerFraction: 0, propeller: 'coarse' });
      recorder.append({ kind: 'sample', ...sample });
    },
    onError: (message) => {
      throw new Error(message);
    },
  });

  const bareMs: number[] = [];
  const linkMs: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const messages = Array.from({ length: PINGS }, (_, ping) =>
      standInText(climbSample((round * PINGS + ping) / RATE_HZ)),
    );
    const bare = await sender.pings(messages, echo.address().port);
    const through = await sender.pings(messages, link.address.port);
    if (round === 0) continue; // to warm up
    bareMs.push(...bare);
    linkMs.push(...through);
  }
  await Promise.all([link.close(), recorder.abandon(), sender.close()]);
  echo.close();
  rmSync(folder, { recursive: true });
  const ratioAt = (share: number) => quantile(linkMs, share) / quantile(bareMs, share);
  const name = (what: string) => `datagram in to command out, ${what} / that of a bare echo`;
  return [
    { name: name('median'), ratio: ratioAt(0.5), goal: 1.3, better: 'lower' },
    { name: name('99th of a hundred'), ratio: ratioAt(0.99), goal: 2, better: 'lower' },
  ];
}

function quantile(values: readonly number[], share: number): number {
  return [...values].sort((a, b) => a - b)[Math.floor(share * (values.length - 1))] as number;
}
