// Parts are killed in mid-attempt: what was recorded stays readable, and each attempt arrives once.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { AttemptList, readRecording } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { inTemporaryFolder, until } from '../support/command.js';
import { flyToFailure, type TestPart, testChain } from '../support/parts.js';

async function attempts(server: string): Promise<AttemptList> {
  return AttemptList.parse(await (await fetch(`${server}/api/attempts?limit=50`)).json());
}

test('a bridge killed in mid-attempt leaves a recording that is readable to its last whole line, and hands it over later', async () => {
  await inTemporaryFolder(async (dir) => {
    const parts: TestPart[] = [];
    try {
      const chain = await testChain(dir);
      const debrief = await chain.startDebrief();
      const server = String(debrief.details.url);
      parts.push(debrief, await chain.startBench());
      const bridge = await chain.startBridge(server);
      const attemptId = await flyToFailure(chain, server, 10);
      await bridge.end('SIGKILL');

      const path = join(dir, 'bridge', 'recordings', `${attemptId}.ndjson`);
      const read = readRecording(readFileSync(path, 'utf8'));
      if (!read.ok) throw new Error(read.problem.message);
      const { samples, events, end } = read.recording;
      expect(end).toBeNull();
      expect(events.map((event) => event.code)).toEqual(
        expect.arrayContaining(['armed', 'lift-off', 'fail-commanded']),
      );
      // The failure came about a minute of flight after brake release, at 20 samples a second.
      expect(samples.length).toBeGreaterThan(400);

      parts.push(await chain.startBridge(server));
      const arrived = await until('the attempt', 20_000, async () => {
        const list = await attempts(server);
        return list.total > 0 ? list : undefined;
      });
      expect(arrived.attempts.map((attempt) => [attempt.attemptId, attempt.complete])).toEqual([[attemptId, false]]);
      const kept = await (await fetch(`${server}/api/attempts/${attemptId}/recording`)).text();
      const stored = readRecording(kept);
      expect(stored.ok && stored.recording.end?.reason).toBe('interrupted');
      expect(stored.ok && stored.recording.samples.length).toBe(samples.length);
    } finally {
      for (const part of parts) await part.end();
    }
  });
});

test('a debrief server killed in mid-attempt and started again still gets the attempt, once', async () => {
  await inTemporaryFolder(async (dir) => {
    const parts: TestPart[] = [];
    try {
      const chain = await testChain(dir);
      const first = await chain.startDebrief();
      const server = String(first.details.url);
      parts.push(await chain.startBench(), await chain.startBridge(server));
      const attemptId = await flyToFailure(chain, server, 20);
      await first.end('SIGKILL');

      const outbox = join(dir, 'bridge', 'outbox');
      await until('the recording in the outbox', 60_000, () =>
        existsSync(outbox) && readdirSync(outbox).some((name) => name.startsWith(attemptId)) ? true : undefined,
      );
      parts.push(await chain.startDebrief(Number(first.details.port)));
      const list = await until('the attempt', 60_000, async () => {
        const found = await attempts(server);
        return found.total > 0 ? found : undefined;
      });
      expect(list.attempts.map((attempt) => attempt.attemptId)).toEqual([attemptId]);
      await until('an empty outbox', 20_000, () => (readdirSync(outbox).length === 0 ? true : undefined));
      expect((await attempts(server)).total).toBe(1);
      const stored = readRecording(await (await fetch(`${server}/api/attempts/${attemptId}/recording`)).text());
      expect(stored.ok && stored.recording.end?.reason).toBe('stopped');
    } finally {
      for (const part of parts) await part.end();
    }
  });
});
