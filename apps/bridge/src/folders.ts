// The folders a bridge keeps its recordings in, and moves of files that survive a loss of power.
import { access, mkdir, open, rename } from 'node:fs/promises';
import { dirname, join } from 'node:path';

export interface Folders {
  /** Attempts under way. */
  readonly recordings: string;
  /** Whole recordings that the server has not acknowledged. */
  readonly outbox: string;
  /** Recordings that the server will not take, with the reason beside them. */
  readonly refused: string;
}

export async function makeFolders(dataDir: string): Promise<Folders> {
  const folders = {
    recordings: join(dataDir, 'recordings'),
    outbox: join(dataDir, 'outbox'),
    refused: join(dataDir, 'refused'),
  };
  for (const folder of Object.values(folders)) await mkdir(folder, { recursive: true });
  return folders;
}

/** Renames a file and makes the new name last. Done again after it failed half-way, it finishes. */
export async function moveFile(from: string, to: string): Promise<void> {
  try {
    await rename(from, to);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    await access(to); // moved by an earlier try, or lost: then this says so
  }
  await syncFolder(dirname(to));
  await syncFolder(dirname(from));
}

/** Makes names in a folder last. Systems that cannot open a folder keep names safe by themselves. */
export async function syncFolder(folder: string): Promise<void> {
  let handle: Awaited<ReturnType<typeof open>> | undefined;
  try {
    handle = await open(folder, 'r');
    await handle.sync();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? '';
    if (!['EISDIR', 'EPERM', 'EACCES', 'EINVAL'].includes(code)) throw error;
  } finally {
    await handle?.close();
  }
}
