// The scoring thread: answers find who asked, one that dies, hangs or cannot start is told apart and replaced.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Recording, readRecording } from '@stillprop/contracts';
import { scoreRecording } from '@stillprop/scoring';
import { afterAll, afterEach, expect, test } from 'vitest';
import { recordingText } from './attempt.fixture.js';
import { ScoringAway } from './scoringDesk.js';
import { type WorkerScoring, workerScoring } from './workerScoring.js';

const dir = mkdtempSync(join(tmpdir(), 'stillprop-worker-'));
afterAll(() => rmSync(dir, { recursive: true }));

// Answers by what the "recording" says: its number doubled, an error, a death, or silence.
const script = join(dir, 'worker.mjs');
writeFileSync(
  script,
  `import { parentPort } from 'node:worker_threads';
   parentPort.postMessage({ ready: true });
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
  scoring = workerScoring(pathToFileURL(script), { withinMs: 300 });
  await expect(asked('hang')).rejects.toThrow('the scoring took more than 0.3 s');
  expect(await asked(6)).toBe(12);
});

test('a thread that cannot even start is no fault of the recording', async () => {
  const broken = join(dir, 'broken.mjs');
  writeFileSync(broken, `throw new Error('half of it is missing');`);
  scoring = workerScoring(pathToFileURL(broken));
  const asking = asked(1);
  await expect(asking).rejects.toThrow('the scoring cannot start: half of it is missing');
  await expect(asking).rejects.toBeInstanceOf(ScoringAway);
});

test('closing ends the thread at once; what it had is left for the next start', async () => {
  scoring = workerScoring(pathToFileURL(script));
  expect(await asked(7)).toBe(14);
  const asking = asked('hang');
  await Promise.all([expect(asking).rejects.toBeInstanceOf(ScoringAway), scoring.close()]);
  await expect(asked(8)).rejects.toBeInstanceOf(ScoringAway);
});

test('the thread that ships, here from its source, scores as the engine does', async () => {
  const tsx = join(createRequire(import.meta.url).resolve('tsx/package.json'), '../dist/esm/api/index.mjs');
  const fromSource = join(dir, 'fromSource.mjs');
  writeFileSync(
    fromSource,
    `import { register } from ${JSON.stringify(String(pathToFileURL(tsx)))};
     register();
     await import(${JSON.stringify(String(new URL('./scoringWorker.ts', import.meta.url)))});`,
  );
  scoring = workerScoring(pathToFileURL(fromSource), { execArgv: ['--conditions=source'] });
  const read = readRecording(recordingText({ attemptId: '4d3c2b1a-0f9e-4d8c-9b7a-6f5e4d3c2b1a' }));
  if (!read.ok) throw new Error(read.problem.message);
  expect(await scoring.scoreRecording(read.recording)).toEqual(scoreRecording(read.recording));
});
