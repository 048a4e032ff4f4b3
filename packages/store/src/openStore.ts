// Opens the store of one data folder: recordings as files, the index in SQLite beside them.
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type AttemptStore, attemptStore } from './attemptStore.js';
import { openDatabase, sqliteDialect } from './database.js';
import { openNoteFiles } from './noteFiles.js';
import { openRecordingFiles } from './recordingFiles.js';

export interface StoreOptions {
  /** Folder that holds everything; made if it is not there. */
  readonly dataDir: string;
  /** Told, a sentence each, what had to be put right on opening and which recordings cannot be read. */
  readonly log?: (sentence: string) => void;
}

/**
 * The store in `dataDir`: `recordings/<attempt id>.ndjson`, `notes/<attempt id>.json`, both in `deleted` for deleted
 * attempts, and `stillprop.sqlite`. Recordings that a crash kept out of the index are put into it.
 *
 * @throws {Error} With one sentence if the folder cannot be used or the index cannot be opened.
 */
export async function openStore({ dataDir, log = () => undefined }: StoreOptions): Promise<AttemptStore> {
  try {
    await mkdir(dataDir, { recursive: true });
  } catch (error) {
    throw new Error(`The data folder ${dataDir} cannot be used: ${(error as Error).message}`, { cause: error });
  }
  const filesIn = async (recordings: string, notes: string) => ({
    recordings: await openRecordingFiles(join(dataDir, recordings)),
    notes: await openNoteFiles(join(dataDir, notes)),
  });
  const live = await filesIn('recordings', 'notes');
  const deleted = await filesIn('deleted', 'deleted');
  const path = join(dataDir, 'stillprop.sqlite');
  const store = attemptStore(await openDatabase(sqliteDialect(path), path), live, deleted);
  try {
    const { indexed, unreadable } = await store.catchUp();
    if (indexed > 0)
      log(`${indexed} recording${indexed === 1 ? '' : 's'} found that the list of attempts lacked: added`);
    for (const sentence of unreadable) log(sentence);
    return store;
  } catch (error) {
    await store.close();
    throw error;
  }
}
