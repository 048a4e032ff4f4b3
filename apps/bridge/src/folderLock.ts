// One bridge a data folder: a second one would take the first one's open recordings for those of a crash.
import { readFile, stat, unlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

const BEAT_MS = 2000;
/** A lock that was not touched for so long belongs to no living bridge, even if its process number is in use again. */
const STALE_MS = 10_000;

export interface FolderLock {
  release(): Promise<void>;
}

/** Takes the lock. @throws {Error} If another bridge runs on this folder. */
export async function lockFolder(dataDir: string): Promise<FolderLock> {
  const path = join(dataDir, 'bridge.lock');
  if (!(await create(path))) {
    const holder = await livingHolder(path);
    if (holder !== null) throw new Error(`another bridge (process ${holder}) already uses the folder ${dataDir}`);
    await writeFile(path, String(process.pid));
  }
  const beat = setInterval(() => {
    const now = new Date();
    utimes(path, now, now).catch(() => undefined); // a disk that refuses is told by the recorder
  }, BEAT_MS);
  beat.unref();
  return {
    release: async () => {
      clearInterval(beat);
      await unlink(path).catch(() => undefined); // gone already: nothing is locked
    },
  };
}

async function create(path: string): Promise<boolean> {
  try {
    await writeFile(path, String(process.pid), { flag: 'wx' });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

async function livingHolder(path: string): Promise<number | null> {
  const holder = Number(await readFile(path, 'utf8'));
  const { mtimeMs } = await stat(path);
  if (!Number.isInteger(holder) || holder <= 0 || holder === process.pid || Date.now() - mtimeMs > STALE_MS)
    return null;
  try {
    process.kill(holder, 0);
    return holder;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM' ? holder : null;
  }
}
