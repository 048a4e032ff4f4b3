import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Recording } from '@stillprop/contracts';
import { afterAll, afterEach, expect, test } from 'vitest';
import { type WorkerScoring, workerScoring } from './workerScoring.js';

const dir = mkdtempSync(join(tmpdir(), 'stillprop-worker-'));
afterAll(() => rmSync(dir, { recursive: true }));

// Answers by what the "recording" says: its number doubled, an error, a death, or silence.
const script = join(dir, 'worker.mjs');
writeFileSync(
  script,
  `import { parentPort } from 'node:worker_threads';
   parentPort.on('message', ({ id, recording }) => {
     if (recording === 'die') process.exit(3);
     if (recording === 'hang') return;
     if (recording === 'throw') parentPort.postMessage({ id, problem: 'no lift-off in it' });
     else parentPort.postMessage({ id, score: recording * 2 });
   });`,
);

let scoring: WorkerScoring;
const asked = (what: unknown) => scoring.scoreRecording(what as Recording);
afterEach(() => scoring.close());

test('several at once each get their own answer', async () => {
  scoring = workerScoring(pathToFileURL(script));
  expect(await Promise.all([asked(1), asked(2), asked(3)])).toEqual([2, 4, 6]);
});

test('what the scoring throws is thrown', async () => {
  scoring = workerScoring(pathToFileURL(script));
  await expect(asked('throw')).rejects.toThrow('no lift-off in it');
  expect(await asked(4)).toBe(8);
});

test('a thread that dies is replaced, and only what it had is lost', async () => {
  scoring = workerScoring(pathToFileURL(script));
  await expect(asked('die')).rejects.toThrow('the scoring ended (3)');
  expect(await asked(5)).toBe(10);
});

test('a thread that does not answer is given up and replaced', async () => {
  scoring = workerScoring(pathToFileURL(script), 300);
  await expect(asked('hang')).rejects.toThrow('the scoring took more than 0.3 s');
  expect(await asked(6)).toBe(12);
});
