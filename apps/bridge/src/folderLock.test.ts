// One bridge a folder: a lock that beats is respected whoever holds it, one that does not outlives nobody.
import { existsSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { type FolderLock, folderHolder, lockFolder } from './folderLock.js';
import { temporaryFolder, until } from './testing.fixture.js';

const lockIn = (folder: string) => join(folder, 'bridge.lock');
const OTHER = { host: 'some-other-computer', pid: 999_999_999, id: '11111111-0000-4000-8000-000000000000' };

async function locked(folder: string, onLost: () => void = () => undefined): Promise<FolderLock> {
  const lock = await lockFolder(folder, { onLost });
  onTestFinished(() => lock.release());
  return lock;
}

/** Keeps a lock of somebody else alive, as a bridge would that runs there. */
function beating(folder: string, holder: object): void {
  const path = lockIn(folder);
  writeFileSync(path, JSON.stringify(holder));
  const timer = setInterval(() => utimesSync(path, new Date(), new Date()), 200);
  onTestFinished(() => clearInterval(timer));
}

test('tells host, process and a name of its own, and is gone when released', async () => {
  const folder = temporaryFolder();
  const lock = await lockFolder(folder);
  expect(JSON.parse(readFileSync(lockIn(folder), 'utf8'))).toEqual({
    host: hostname(),
    pid: process.pid,
    id: expect.stringMatching(/^[0-9a-f-]{36}$/),
  });
  await lock.release();
  expect(existsSync(lockIn(folder))).toBe(false);
});

test.each([
  ['of a process that this computer does not have', OTHER, 'process 999999999 on some-other-computer'],
  ['with our own process number', { ...OTHER, pid: process.pid }, `process ${process.pid} on some-other-computer`],
])('a lock that beats is respected, also one %s', async (_, holder, named) => {
  const folder = temporaryFolder();
  beating(folder, holder);
  await expect(lockFolder(folder)).rejects.toThrow(`another bridge (${named}) already uses the folder ${folder}`);
  expect(JSON.parse(readFileSync(lockIn(folder), 'utf8'))).toEqual(holder);
});

test('who holds a folder can be asked without taking it', async () => {
  const [free, left, held] = [temporaryFolder(), temporaryFolder(), temporaryFolder()];
  writeFileSync(lockIn(left), JSON.stringify(OTHER));
  beating(held, OTHER);
  expect(await Promise.all([free, left, held].map(folderHolder))).toEqual([
    null,
    null,
    'process 999999999 on some-other-computer',
  ]);
  expect(existsSync(lockIn(free))).toBe(false);
  expect(JSON.parse(readFileSync(lockIn(left), 'utf8'))).toEqual(OTHER);
});

test('a second bridge in the same process is refused as well', async () => {
  const folder = temporaryFolder();
  await locked(folder);
  await expect(lockFolder(folder)).rejects.toThrow(/^another bridge \(process \d+ on .+\) already uses the folder/);
});

test('a lock that does not beat is taken over, whatever stands in it and however old it is', async () => {
  const left = [
    { text: JSON.stringify(OTHER), ageS: 0 }, // as by a bridge that was killed just now
    { text: JSON.stringify(OTHER), ageS: 60 },
    { text: JSON.stringify(OTHER), ageS: -3600 }, // by a clock that runs ahead
    { text: String(process.ppid), ageS: 0 },
    { text: 'rubbish', ageS: 0 },
  ].map((each) => ({ ...each, folder: temporaryFolder() }));
  await Promise.all(
    left.map(async ({ text, ageS, folder }) => {
      writeFileSync(lockIn(folder), text);
      const then = new Date(Date.now() - ageS * 1000);
      utimesSync(lockIn(folder), then, then);
      const said: string[] = [];
      const lock = await lockFolder(folder, { log: (line) => said.push(line) });
      expect(said[0]).toMatch(/^the folder .* is locked: waiting to see whether/);
      expect(JSON.parse(readFileSync(lockIn(folder), 'utf8'))).toMatchObject({ pid: process.pid });
      await lock.release();
      expect(existsSync(lockIn(folder))).toBe(false);
    }),
  );
});

test('of two that take over the same dead lock, one gets it', async () => {
  const folder = temporaryFolder();
  writeFileSync(lockIn(folder), JSON.stringify(OTHER));
  const both = await Promise.allSettled([locked(folder), locked(folder)]);
  expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
});

test('one that lost its folder to another tells, and leaves the lock of the other alone', async () => {
  const folder = temporaryFolder();
  let lost = 0;
  const lock = await locked(folder, () => {
    lost += 1;
  });
  writeFileSync(lockIn(folder), JSON.stringify(OTHER));
  await until(() => lost > 0);
  await lock.release();
  expect(JSON.parse(readFileSync(lockIn(folder), 'utf8'))).toEqual(OTHER);
  expect(lost).toBe(1);
});
