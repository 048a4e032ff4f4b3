// One bridge a folder, and no lock that outlives its bridge.

import { spawnSync } from 'node:child_process';
import { existsSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { lockFolder } from './folderLock.js';
import { temporaryFolder } from './testing.fixture.js';

test('a folder in use by a living process is refused', async () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'bridge.lock'), String(process.ppid));
  await expect(lockFolder(folder)).rejects.toThrow(`another bridge (process ${process.ppid}) already uses the folder`);
});

test.each([
  ['of a process that is gone', () => spawnSync(process.execPath, ['-e', '']).pid, 0],
  ['that nobody touched for a minute, its number in use again', () => process.ppid, 60],
  ['that holds no number', () => 'rubbish', 0],
])('a lock %s is taken over, and released', async (_, holder, ageS) => {
  const folder = temporaryFolder();
  const path = join(folder, 'bridge.lock');
  writeFileSync(path, String(holder()));
  const then = new Date(Date.now() - ageS * 1000);
  utimesSync(path, then, then);
  const lock = await lockFolder(folder);
  await lock.release();
  expect(existsSync(path)).toBe(false);
});
