// The network between bridge and server is cut two hundred times, on the way up and on the way back: every attempt
// arrives, and each once.
import { randomUUID } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { attemptsAt } from '../support/attemptsAt.js';
import { inTemporaryFolder, until } from '../support/command.js';
import { type Cut, type CuttingProxy, cuttingProxy } from '../support/cuttingProxy.js';
import { flownRecordingText } from '../support/flownRecording.js';
import { testChain } from '../support/parts.js';
import { seededRandom } from '../support/seededRandom.js';

/** Bridges side by side, each behind a proxy of its own that cuts so many connections and then none. */
const LANES = 20;
const CUTS_EACH = 10;
const RECORDINGS_EACH = 10;
const SAMPLES = 200;
/** A connection that carries too little to be cut by bytes is cut after this. */
const QUIET_MS = 1000;

const cutsOf = ({ cuts }: CuttingProxy) => cuts.up + cuts.back + cuts.quiet;

/** A short attempt that an instructor stopped on the runway, as a bridge leaves it in its outbox. */
function waitingRecording(attemptId: string, flown: string): string {
  const [header = '', ...rest] = flown.split('\n');
  const samples = rest.filter((line) => line.includes('"kind":"sample"')).slice(0, SAMPLES);
  const end = JSON.stringify({
    kind: 'end',
    reason: 'instructor',
    text: 'Stopped.',
    timeS: null,
    samples: samples.length,
  });
  return `${[JSON.stringify({ ...JSON.parse(header), attemptId }), ...samples, end].join('\n')}\n`;
}

test(`${LANES * CUTS_EACH} network cuts: every attempt arrives exactly once, whole`, { timeout: 600_000 }, async () => {
  await inTemporaryFolder(async (dir) => {
    const debrief = await (await testChain(dir)).startDebrief();
    const server = String(debrief.details.url);
    const flown = flownRecordingText({ heightFt: 300 });
    const bytesOfOne = Buffer.byteLength(waitingRecording(randomUUID(), flown));
    const sent: string[] = [];
    const cuts = { up: 0, back: 0, quiet: 0 };

    const lane = async (index: number) => {
      const home = join(dir, `lane-${index}`);
      const outbox = join(home, 'bridge', 'outbox');
      mkdirSync(outbox, { recursive: true });
      for (let i = 0; i < RECORDINGS_EACH; i++) {
        const attemptId = randomUUID();
        sent.push(attemptId);
        writeFileSync(join(outbox, `${attemptId}.ndjson`), waitingRecording(attemptId, flown));
      }
      const random = seededRandom(1 + index);
      let left = CUTS_EACH;
      const nextCut = (): Cut | null => {
        if (left === 0) return null;
        left -= 1;
        // A receipt with its headers is some hundred bytes; a whole recording some tens of thousands.
        return random() < 0.5
          ? { way: 'up', afterBytes: Math.floor(random() * 1.5 * bytesOfOne), afterMs: QUIET_MS }
          : { way: 'back', afterBytes: Math.floor(random() * 600), afterMs: QUIET_MS };
      };
      const proxy = await cuttingProxy(Number(debrief.details.port), nextCut);
      const chain = await testChain(home, `lane ${index}`);
      const bridge = await chain.startBridge(`http://127.0.0.1:${proxy.port}`);
      try {
        await until('the last cut', 300_000, () => (cutsOf(proxy) >= CUTS_EACH ? true : undefined));
        await until('an empty outbox', 120_000, async () =>
          (await chain.stationOf(server))?.live?.outboxWaiting === 0 ? true : undefined,
        );
        for (const how of ['up', 'back', 'quiet'] as const) cuts[how] += proxy.cuts[how];
      } finally {
        await bridge.end();
        await proxy.close();
      }
    };

    try {
      await Promise.all(Array.from({ length: LANES }, (_, index) => lane(index)));
      const there = await attemptsAt(server);
      expect(there.map(({ attemptId }) => attemptId).sort()).toEqual([...sent].sort());
      expect(there.every(({ samples, complete }) => samples === SAMPLES && complete)).toBe(true);
      expect(cuts.up + cuts.back + cuts.quiet).toBe(LANES * CUTS_EACH);
      // Requests broke off and answers were lost; it was not only silence that was cut.
      expect(Math.min(cuts.up, cuts.back)).toBeGreaterThan((LANES * CUTS_EACH) / 8);
    } finally {
      await debrief.end();
    }
  });
});
