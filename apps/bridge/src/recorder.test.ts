// A recording grows on the disk while it is made, survives being dropped, and waits out a disk that refuses.
import { randomUUID } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readRecording } from '@stillprop/contracts';
import { expect, onTestFinished, test } from 'vitest';
import { Recorder } from './recorder.js';
import { demoHeader, demoSample, temporaryFolder, until } from './testing.fixture.js';

function recorderIn(folder: string, problems: (string | null)[] = []) {
  const attemptId = randomUUID();
  const path = join(folder, `${attemptId}.ndjson`);
  const recorder = new Recorder(path, { onProblem: (message) => problems.push(message) });
  onTestFinished(() => recorder.abandon());
  recorder.append(demoHeader(attemptId));
  return { recorder, path };
}
/** The file is made a moment before its first line stands in it. */
const begun = (path: string) => existsSync(path) && readFileSync(path, 'utf8').includes('\n');
const reading = (path: string) => {
  const read = readRecording(readFileSync(path, 'utf8'));
  if (!read.ok) throw new Error(read.problem.message);
  return read.recording;
};

test('samples reach the file by themselves, without any event', async () => {
  const { recorder, path } = recorderIn(temporaryFolder());
  for (let index = 0; index < 20; index += 1) recorder.append({ kind: 'sample', ...demoSample(index) });
  await until(() => begun(path) && reading(path).samples.length === 20);
});

test('an event takes everything before it to the file at once', async () => {
  const { recorder, path } = recorderIn(temporaryFolder());
  await until(() => begun(path));
  recorder.append({ kind: 'sample', ...demoSample(1) });
  recorder.append({ kind: 'event', timeS: 1, code: 'lift-off', text: 'Lift-off.' });
  await until(() => reading(path).events.length === 1);
  expect(reading(path).samples).toHaveLength(1);
});

test('dropped in the middle, the file reads up to its last whole line', async () => {
  const { recorder, path } = recorderIn(temporaryFolder());
  recorder.append({ kind: 'sample', ...demoSample(1) });
  recorder.append({ kind: 'event', timeS: 1, code: 'lift-off', text: 'Lift-off.' });
  await until(() => begun(path) && reading(path).events.length === 1);
  recorder.append({ kind: 'sample', ...demoSample(2) });
  await recorder.abandon();
  expect(reading(path).samples).toHaveLength(1);
  expect(reading(path).end).toBeNull();
});

test('finished, it stands in the outbox with the samples counted', async () => {
  const folder = temporaryFolder();
  const outbox = join(folder, 'outbox');
  mkdirSync(outbox);
  const { recorder, path } = recorderIn(folder);
  for (let index = 0; index < 500; index += 1) recorder.append({ kind: 'sample', ...demoSample(index) });
  const target = await recorder.finish({ timeS: 499, reason: 'stopped', text: 'Stopped.' }, outbox);
  expect(existsSync(path)).toBe(false);
  const { samples, end } = reading(target ?? '');
  expect(samples.map(({ timeS }) => timeS)).toEqual(Array.from({ length: 500 }, (_, index) => index));
  expect(end).toEqual({ kind: 'end', timeS: 499, reason: 'stopped', text: 'Stopped.', samples: 500 });
});

test('a disk that refuses is told, and told again when it takes data; nothing is missing then', async () => {
  const folder = temporaryFolder();
  const away = join(folder, 'away');
  const problems: (string | null)[] = [];
  const { recorder, path } = recorderIn(away, problems);
  recorder.append({ kind: 'sample', ...demoSample(1) });
  await until(() => problems.length > 0);
  expect(problems[0]).toMatch(/^The recording cannot be written: ENOENT/);
  recorder.append({ kind: 'sample', ...demoSample(2) });
  mkdirSync(away);
  await until(() => problems.includes(null));
  expect(reading(path).samples.map(({ timeS }) => timeS)).toEqual([1, 2]);
});

test('given up, it stays where it is for the next start', async () => {
  const folder = temporaryFolder();
  const { recorder, path } = recorderIn(folder);
  const finished = recorder.finish({ timeS: null, reason: 'stopped', text: 'Stopped.' }, join(folder, 'nowhere'));
  await until(() => begun(path) && reading(path).end !== null);
  recorder.giveUp();
  expect(await finished).toBeNull();
  expect(existsSync(path)).toBe(true);
});
