// One bridge a data folder: a second one would take the first one's open recordings for those of a crash.
import { randomUUID } from 'node:crypto';
import { readFile, stat, unlink, utimes, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

/** A living bridge touches its lock this often. */
const BEAT_MS = 1000;
/** A lock that nobody touches for so long, by our own clock, belongs to no living bridge. */
const DEAD_AFTER_MS = 5000;
/** A look so long sees a beat of any bridge that is not badly held up. */
const BEAT_SEEN_WITHIN_MS = 2500;
const LOOK_EVERY_MS = 250;
/** Two that take over a dead lock in the same moment both write it; after so long the later one's name stands in it. */
const SETTLED_AFTER_MS = 250;

export interface FolderLock {
  release(): Promise<void>;
}

export interface FolderLockListener {
  /** Another bridge took the folder, which it may do after this one stood still. */
  onLost?(): void;
  log?(line: string): void;
}

/**
 * Takes the lock. A lock that is there is watched: if it beats, somebody holds it, whatever host and process it names (a
 * folder may lie on a network, process numbers come again, clocks differ); if it does not, it is taken over.
 *
 * @throws {Error} If another bridge runs on this folder.
 */
export async function lockFolder(dataDir: string, listener: FolderLockListener = {}): Promise<FolderLock> {
  const path = lockPath(dataDir);
  const own = JSON.stringify({ host: hostname(), pid: process.pid, id: randomUUID() });
  if (!(await create(path, own))) {
    listener.log?.(`the folder ${dataDir} is locked: waiting to see whether the bridge that locked it still runs`);
    if (await beats(path, DEAD_AFTER_MS)) throw inUse(dataDir, await contents(path));
    await writeFile(path, own);
    await wait(SETTLED_AFTER_MS);
    const now = await contents(path);
    if (now !== own) throw inUse(dataDir, now);
  }
  return keep(path, own, listener);
}

/**
 * Who uses the folder, or null. For a word to the person before anything is started: only {@link lockFolder} decides.
 *
 * @returns `process 12 on hostname`, or null where there is no lock or it does not beat within seconds.
 */
export async function folderHolder(dataDir: string): Promise<string | null> {
  const path = lockPath(dataDir);
  if ((await touchedMs(path)) === null || !(await beats(path, BEAT_SEEN_WITHIN_MS))) return null;
  return nameOf(await contents(path));
}

function lockPath(dataDir: string): string {
  return join(dataDir, 'bridge.lock');
}

function keep(path: string, own: string, { onLost }: FolderLockListener): FolderLock {
  const beat = async () => {
    const holder = await contents(path);
    if (holder !== own && holder !== null) {
      clearInterval(timer);
      onLost?.();
      return;
    }
    const now = new Date();
    await utimes(path, now, now);
  };
  // A disk that refuses is told by the recorder.
  const timer = setInterval(() => void beat().catch(() => undefined), BEAT_MS);
  timer.unref();
  return {
    release: async () => {
      clearInterval(timer);
      if ((await contents(path)) === own) await unlink(path).catch(() => undefined); // gone already: nothing is locked
    },
  };
}

async function create(path: string, own: string): Promise<boolean> {
  try {
    await writeFile(path, own, { flag: 'wx' });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

/** Does anybody touch the lock while we look? One that goes meanwhile was released. */
async function beats(path: string, withinMs: number): Promise<boolean> {
  const first = await touchedMs(path);
  for (let waitedMs = 0; waitedMs < withinMs; waitedMs += LOOK_EVERY_MS) {
    await wait(LOOK_EVERY_MS);
    const now = await touchedMs(path);
    if (now === null) return false;
    if (now !== first) return true;
  }
  return false;
}

async function touchedMs(path: string): Promise<number | null> {
  return stat(path).then(
    ({ mtimeMs }) => mtimeMs,
    () => null,
  );
}

async function contents(path: string): Promise<string | null> {
  return readFile(path, 'utf8').catch(() => null);
}

function inUse(dataDir: string, holder: string | null): Error {
  return new Error(`another bridge (${nameOf(holder)}) already uses the folder ${dataDir}`);
}

function nameOf(holder: string | null): string {
  try {
    const { host, pid } = JSON.parse(holder ?? '') as { host?: unknown; pid?: unknown };
    if (typeof host === 'string' && typeof pid === 'number') return `process ${pid} on ${host}`;
  } catch {
    // Not written by a bridge of this version: it beats all the same.
  }
  return 'which does not tell its process';
}
