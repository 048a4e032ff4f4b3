// Recordings as files, one for each attempt, named by its id.
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { attemptPath, ifThere, moveWhole, openFolder, readIfThere, safeAttemptId, writeWhole } from './wholeFiles.js';

const SUFFIX = '.ndjson';

export interface RecordingFiles {
  /** Bytes on disk by attempt id, of every recording. */
  sizes(): Promise<Map<string, number>>;
  read(attemptId: string): Promise<Uint8Array | undefined>;
  /** Returns once the bytes are safe on disk; an earlier recording of that id is replaced as a whole. */
  write(attemptId: string, bytes: Uint8Array): Promise<void>;
  has(attemptId: string): Promise<boolean>;
  /** When the file was last written or moved, ISO 8601 in UTC; undefined if there is none. */
  changedAt(attemptId: string): Promise<string | undefined>;
  /** Moves a recording into another folder, as it is. @returns false if there is none. */
  moveTo(other: RecordingFiles, attemptId: string): Promise<boolean>;
  readonly folder: string;
}

/** Opens (and makes) a folder of recordings. */
export async function openRecordingFiles(folder: string): Promise<RecordingFiles> {
  await openFolder(folder);
  const statOf = async (attemptId: string) => ifThere(stat(attemptPath(folder, attemptId, SUFFIX)));
  return {
    folder,
    async sizes() {
      const sizes = new Map<string, number>();
      for (const name of await readdir(folder)) {
        const id = name.endsWith(SUFFIX) ? safeAttemptId(name.slice(0, -SUFFIX.length)) : undefined;
        if (id !== undefined) sizes.set(id, (await stat(join(folder, name))).size);
      }
      return sizes;
    },
    read: async (attemptId) => readIfThere(attemptPath(folder, attemptId, SUFFIX)),
    write: async (attemptId, bytes) => writeWhole(attemptPath(folder, attemptId, SUFFIX), bytes),
    has: async (attemptId) => (await statOf(attemptId)) !== undefined,
    changedAt: async (attemptId) => (await statOf(attemptId))?.ctime.toISOString(),
    moveTo: async (other, attemptId) =>
      moveWhole(attemptPath(folder, attemptId, SUFFIX), attemptPath(other.folder, attemptId, SUFFIX)),
  };
}
