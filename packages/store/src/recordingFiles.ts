// Recordings as files: written whole, flushed, and renamed into place, so that a crash leaves either the old or the new.
import { randomUUID } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { AttemptId } from '@stillprop/contracts';

const SUFFIX = '.ndjson';
const PART = '.part';
const HOUR_MS = 3_600_000;

export interface RecordingFiles {
  /** Bytes on disk by attempt id, of every recording. */
  sizes(): Promise<Map<string, number>>;
  read(attemptId: string): Promise<Uint8Array | undefined>;
  /** Returns once the bytes are safe on disk; an earlier recording of that id is replaced as a whole. */
  write(attemptId: string, bytes: Uint8Array): Promise<void>;
}

/** The lower-case form of an attempt id, or undefined when it is none: only this may become part of a path. */
export function safeAttemptId(text: string): string | undefined {
  return AttemptId.safeParse(text).success ? text.toLowerCase() : undefined;
}

/** Opens (and makes) a folder of recordings, and clears away what an interrupted write left there an hour ago or more. */
export async function openRecordingFiles(folder: string): Promise<RecordingFiles> {
  await mkdir(folder, { recursive: true });
  await flushFolder(dirname(folder));
  for (const name of await readdir(folder)) {
    if (!name.endsWith(PART)) continue;
    const path = join(folder, name);
    if (Date.now() - (await stat(path)).mtimeMs > HOUR_MS) await rm(path, { force: true });
  }
  const pathOf = (attemptId: string) => {
    const id = safeAttemptId(attemptId);
    if (id === undefined) throw new RangeError(`attemptId must be a UUID, got ${JSON.stringify(attemptId)}`);
    return join(folder, `${id}${SUFFIX}`);
  };
  return {
    async sizes() {
      const sizes = new Map<string, number>();
      for (const name of await readdir(folder)) {
        const id = name.endsWith(SUFFIX) ? safeAttemptId(name.slice(0, -SUFFIX.length)) : undefined;
        if (id !== undefined) sizes.set(id, (await stat(join(folder, name))).size);
      }
      return sizes;
    },
    async read(attemptId) {
      try {
        return await readFile(pathOf(attemptId));
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
        throw error;
      }
    },
    async write(attemptId, bytes) {
      const path = pathOf(attemptId);
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
      await flushFolder(folder);
    },
  };
}

/** Makes a rename last through a power cut. */
async function flushFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return; // there a folder cannot be opened, and the rename is journalled
  const handle = await open(folder, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
