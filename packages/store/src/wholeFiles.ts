// Files that a crash leaves either as they were or as they were to become: written whole, flushed, renamed into place.
import { randomUUID } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { AttemptId } from '@stillprop/contracts';

const PART = '.part';
const HOUR_MS = 3_600_000;

/** The lower-case form of an attempt id, or undefined when it is none: only this may become part of a path. */
export function safeAttemptId(text: string): string | undefined {
  return AttemptId.safeParse(text).success ? text.toLowerCase() : undefined;
}

/** The path of an attempt's file. @throws {RangeError} If the id is none. */
export function attemptPath(folder: string, attemptId: string, suffix: string): string {
  const id = safeAttemptId(attemptId);
  if (id === undefined) throw new RangeError(`attemptId must be a UUID, got ${JSON.stringify(attemptId)}`);
  return join(folder, `${id}${suffix}`);
}

/** Makes a folder, and clears away what an interrupted write left there an hour ago or more. */
export async function openFolder(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  await flushFolder(dirname(folder));
  for (const name of await readdir(folder)) {
    if (!name.endsWith(PART)) continue;
    const path = join(folder, name);
    if (Date.now() - (await stat(path)).mtimeMs > HOUR_MS) await rm(path, { force: true });
  }
}

export async function readIfThere(path: string): Promise<Uint8Array | undefined> {
  return ifThere(readFile(path));
}

/** Returns once the bytes are safe on disk; a file that was there is replaced as a whole. */
export async function writeWhole(path: string, bytes: Uint8Array): Promise<void> {
  const part = `${path}.${randomUUID()}${PART}`;
  try {
    const file = await open(part, 'wx');
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(part, path);
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  }
  await flushFolder(dirname(path));
}

/** Moves a file to another folder; returns once both folders are safe on disk. @returns false if there is no such file. */
export async function moveWhole(from: string, to: string): Promise<boolean> {
  if ((await ifThere(rename(from, to).then(() => true))) === undefined) return false;
  await flushFolder(dirname(to));
  await flushFolder(dirname(from));
  return true;
}

/** The answer of the file system, or undefined where there is no such file. */
export async function ifThere<T>(asked: Promise<T>): Promise<T | undefined> {
  try {
    return await asked;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
}

/** Makes a rename last through a power cut. */
export async function flushFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return; // there a folder cannot be opened, and the rename is journalled
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
