// The bridge is killed again and again at random moments of an attempt: no recording is unreadable,
// none is lost, and none arrives twice.
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Recording, readRecording } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { attemptsAt } from '../support/attemptsAt.js';
import { inTemporaryFolder, until } from '../support/command.js';
import { receiving, type TestChain, type TestPart, testChain } from '../support/parts.js';
import { seededRandom } from '../support/seededRandom.js';

/** A multiple of the lanes; `npm run fuzz` kills more often. */
const KILLS = Number(process.env.BRIDGE_KILLS ?? 20);
/** Bridges killed side by side: most of a round is waiting, not least for the lock of the folder to fall silent. */
const LANES = 10;
/** The stand-in flies this much faster than life, so that rounds end in every state of an attempt. */
const PACE = 20;
const LONGEST_LIFE_MS = 2500;
/** What one killed attempt left. */
interface Left {
  readonly attemptId: string;
  /** Samples found on the disk; null: the server already had them. */
  readonly samples: number | null;
}

/** The recording wherever the kill left it; null: the server already had it. */
function leftBehind(folder: string, attemptId: string): Recording | null {
  const path = ['recordings', 'outbox'].map((part) => join(folder, part, `${attemptId}.ndjson`)).find(existsSync);
  if (path === undefined) return null;
  const read = readRecording(readFileSync(path, 'utf8'));
  if (!read.ok) throw new Error(`${attemptId}: ${read.problem.message}`);
  return read.recording;
}

/** Arms, flies, and kills the bridge after so long. */
async function killedAttempt(chain: TestChain, folder: string, server: string, lifeMs: number): Promise<Left> {
  const bridge = await chain.startBridge(server);
  await receiving(chain, server);
  const scenario = { scenarioId: 'first-turn-back', linkId: chain.linkId };
  const armed = await chain.command(server, { command: 'arm', ...scenario, student: null });
  const attemptId = armed.attemptId as string;
  await chain.command(server, { command: 'begin', ...scenario, pilot: 'prompt', seed: 7, speed: PACE });
  await new Promise((resolve) => setTimeout(resolve, lifeMs));
  await bridge.end('SIGKILL');

  const recording = leftBehind(folder, attemptId);
  if (recording === null) return { attemptId, samples: null };
  const { samples, header } = recording;
  expect(header.attemptId).toBe(attemptId);
  return { attemptId, samples: samples.length };
}

async function lane(dir: string, name: string, server: string, kills: number, seed: number): Promise<Left[]> {
  mkdirSync(dir);
  const chain = await testChain(dir, name);
  const bench: TestPart = await chain.startBench();
  const random = seededRandom(seed);
  const left: Left[] = [];
  try {
    for (let kill = 0; kill < kills; kill++)
      left.push(await killedAttempt(chain, join(dir, 'bridge'), server, random() * LONGEST_LIFE_MS));
    const last = await chain.startBridge(server);
    await until('an empty outbox', 60_000, async () =>
      (await chain.stationOf(server))?.live?.outboxWaiting === 0 ? true : undefined,
    );
    await last.end();
  } finally {
    await bench.end();
  }
  return left;
}

test(`${KILLS} kills of the bridge: every recording is readable and arrives once, with all that was on the disk`, {
  timeout: 600_000,
}, async () => {
  await inTemporaryFolder(async (dir) => {
    const debrief = await (await testChain(dir)).startDebrief();
    const server = String(debrief.details.url);
    try {
      const lanes = Array.from({ length: LANES }, (_, i) =>
        lane(join(dir, `lane-${i}`), `lane ${i}`, server, KILLS / LANES, 1 + i),
      );
      const left = (await Promise.all(lanes)).flat();
      expect(new Set(left.map(({ attemptId }) => attemptId)).size).toBe(KILLS);
      const there = await attemptsAt(server);
      expect(there.map(({ attemptId }) => attemptId).sort()).toEqual(left.map(({ attemptId }) => attemptId).sort());
      const samplesOf = new Map(there.map(({ attemptId, samples }) => [attemptId, samples]));
      for (const { attemptId, samples } of left) if (samples !== null) expect(samplesOf.get(attemptId)).toBe(samples);
      // Kills fell into attempts under way, not only before them.
      expect(left.filter(({ samples }) => (samples ?? 0) > 200).length).toBeGreaterThan(KILLS / 4);
    } finally {
      await debrief.end();
    }
  });
});
