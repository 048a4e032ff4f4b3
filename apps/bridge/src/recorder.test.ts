// A recording grows on the disk while it is made, survives being dropped, and waits out a disk that refuses.
import { randomUUID } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readRecording } from '@stillprop/contracts';
import { expect, onTestFinished, test, vi } from 'vitest';
import type * as folders from './folders.js';
import { Recorder } from './recorder.js';
import { demoHeader, demoSample, temporaryFolder, until } from './testing.fixture.js';

/** How often a folder will refuse to be made last from now on. */
const refusals = vi.hoisted(() => ({ left: 0 }));
vi.mock(import('./folders.js'), async (original): Promise<typeof folders> => {
  const real = await original();
  const syncFolder = async (folder: string) => {
    refusals.left -= 1;
    if (refusals.left >= 0) throw new Error('EIO: i/o error, fsync');
    return real.syncFolder(folder);
  };
  return { ...real, syncFolder };
});

function recorderIn(folder: string, problems: (string | null)[] = [], mostWaitingChars?: number) {
  const attemptId = randomUUID();
  const path = join(folder, `${attemptId}.ndjson`);
  const recorder = new Recorder(path, { onProblem: (message) => problems.push(message) }, mostWaitingChars);
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

test('a file whose name could not be made last is written all the same by the next try', async () => {
  const folder = temporaryFolder();
  const outbox = join(folder, 'outbox');
  mkdirSync(outbox);
  refusals.left = 2;
  const problems: (string | null)[] = [];
  const { recorder } = recorderIn(folder, problems);
  recorder.append({ kind: 'sample', ...demoSample(1) });
  await until(() => problems.includes(null));
  expect(problems.filter((message) => message !== null)).toEqual(
    Array(2).fill('The recording cannot be written: EIO: i/o error, fsync.'),
  );
  const target = await recorder.finish({ timeS: 1, reason: 'stopped', text: 'Stopped.' }, outbox);
  expect(reading(target ?? '').samples).toHaveLength(1);
  expect(problems.at(-1)).toBeNull();
});

test('a file of another with its name is not written over', async () => {
  const folder = temporaryFolder();
  const problems: (string | null)[] = [];
  const first = recorderIn(folder);
  await until(() => begun(first.path));
  const before = readFileSync(first.path, 'utf8');
  const second = new Recorder(first.path, { onProblem: (message) => problems.push(message) });
  onTestFinished(() => second.abandon());
  second.append({ kind: 'event', timeS: null, code: 'armed', text: 'Armed.' });
  await until(() => problems.length > 1);
  expect(problems.at(-1)).toMatch(/EEXIST/);
  expect(readFileSync(first.path, 'utf8')).toBe(before);
});

test('memory is bounded while the disk refuses: samples are lost then, loudly, and the recording says so', async () => {
  const folder = temporaryFolder();
  const away = join(folder, 'away');
  const outbox = join(folder, 'outbox');
  mkdirSync(outbox);
  const problems: (string | null)[] = [];
  const { recorder, path } = recorderIn(away, problems, 20_000);
  const most = 400;
  for (let index = 0; index < most; index += 1) {
    recorder.append({ kind: 'sample', ...demoSample(index) });
    if (index === 300) recorder.append({ kind: 'event', timeS: index, code: 'contact', text: 'Contact.' });
  }
  await until(() => problems.some((message) => message?.includes('lost') === true));
  expect(problems.at(-1)).toBe(
    `The recording cannot be written: ENOENT: no such file or directory, open '${path}'. Memory for it is full: every further sample is lost until the disk takes data again.`,
  );
  mkdirSync(away);
  await until(() => problems.at(-1)?.startsWith('The recording is written again') === true);
  const lost = Number(/\((\d+)\)/.exec(problems.at(-1) ?? '')?.[1]);
  expect(lost).toBeGreaterThan(100);
  expect(problems.at(-1)).toBe(
    `The recording is written again, but samples were lost while the disk refused (${lost}): its debrief has a gap.`,
  );
  recorder.append({ kind: 'sample', ...demoSample(most) });
  const target = await recorder.finish({ timeS: most, reason: 'stopped', text: 'Stopped.' }, outbox);
  const { samples, events, end } = reading(target ?? '');
  expect(samples).toHaveLength(most + 1 - lost);
  expect(end?.samples).toBe(samples.length);
  expect(samples.at(-1)?.timeS).toBe(most);
  expect(events.map(({ code }) => code)).toEqual(['contact', 'data-fault']);
  expect(events[1]).toMatchObject({
    timeS: most - 1,
    text: `Samples were lost (${lost}): the disk of the bridge took no data.`,
    figures: { lostSamples: lost },
  });
  expect(problems.at(-1)).toMatch(/^The recording is written again/);
});

test('finished while samples are being lost, the recording is whole up to its end once the disk takes data', async () => {
  const folder = temporaryFolder();
  const away = join(folder, 'away');
  const outbox = join(folder, 'outbox');
  mkdirSync(outbox);
  const { recorder } = recorderIn(away, [], 20_000);
  for (let index = 0; index < 400; index += 1) recorder.append({ kind: 'sample', ...demoSample(index) });
  const finished = recorder.finish({ timeS: 399, reason: 'stopped', text: 'Stopped.' }, outbox);
  mkdirSync(away);
  const { samples, events, end } = reading((await finished) ?? '');
  expect(events.map(({ code, figures }) => [code, figures?.lostSamples])).toEqual([
    ['data-fault', 400 - samples.length],
  ]);
  expect(end).toMatchObject({ reason: 'stopped', samples: samples.length });
});
