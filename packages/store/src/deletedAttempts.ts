// Deleting attempts and bringing them back: files are moved, never removed, and where the recording lies is the truth.
import type { DeletedAttempt } from '@stillprop/contracts';
import type { Kysely } from 'kysely';
import { dropAttempt, findAttempt, listDeleted } from './attemptIndex.js';
import { deletedSince, markDeleted } from './liveAttempts.js';
import type { NoteFiles } from './noteFiles.js';
import type { RecordingFiles } from './recordingFiles.js';
import type { Tables } from './schema.js';
import { safeAttemptId } from './wholeFiles.js';

/** The files of attempts: recordings, and notes to them. */
export interface AttemptFiles {
  readonly recordings: RecordingFiles;
  readonly notes: NoteFiles;
}

export type DeleteRefusal = 'no-attempt' | 'recording-gone' | 'other-recording-kept';
/** `already`: it was so before. */
export type Moved<T = object> =
  | ({ readonly ok: true; readonly attemptId: string; readonly already: boolean } & T)
  | { readonly ok: false; readonly code: DeleteRefusal; readonly message: string };

export interface DeletedAttempts {
  /**
   * Moves recording and notes of an attempt to the deleted ones and takes it out of every list and comparison. Its score
   * stays in the index, so that it is there again when the attempt is restored.
   */
  delete(attemptId: string): Promise<Moved<{ readonly deletedAt: string }>>;
  /** Brings a deleted attempt back with recording, score and notes as they were. */
  restore(attemptId: string): Promise<Moved>;
  /** Deleted attempts, those deleted last first. */
  list(): Promise<readonly DeletedAttempt[]>;
  has(attemptId: string): Promise<boolean>;
}

/**
 * @param indexFile Puts a listed recording into the index anew.
 * @param inTurn One writer at a time.
 */
export function deletedAttempts(
  db: Kysely<Tables>,
  live: AttemptFiles,
  deleted: AttemptFiles,
  indexFile: (attemptId: string) => Promise<unknown>,
  inTurn: <T>(work: () => Promise<T>) => Promise<T>,
): DeletedAttempts {
  const refuse = (code: DeleteRefusal, message: string) => ({ ok: false, code, message }) as const;
  const unknown = (attemptId: string) => refuse('no-attempt', `there is no attempt ${attemptId}`);
  const gone = (attemptId: string) =>
    refuse('recording-gone', `the recording of attempt ${attemptId} is no longer in the data folder`);

  async function mark(attemptId: string): Promise<string> {
    const known = (await deletedSince(db)).get(attemptId);
    const deletedAt = known ?? (await deleted.recordings.changedAt(attemptId)) ?? new Date().toISOString();
    if (known === undefined) await markDeleted(db, attemptId, deletedAt);
    return deletedAt;
  }

  /** Whether moving a recording would put it in the place of another one. */
  async function inTheWay(attemptId: string): Promise<boolean> {
    const [from, to] = [await live.recordings.read(attemptId), await deleted.recordings.read(attemptId)];
    return from !== undefined && to !== undefined && Buffer.compare(from, to) !== 0;
  }

  return {
    delete: (attemptId) =>
      inTurn(async () => {
        const id = safeAttemptId(attemptId);
        if (id === undefined) return unknown(attemptId);
        if (!(await live.recordings.has(id))) {
          if (!(await deleted.recordings.has(id)))
            return (await findAttempt(db, id)) === undefined ? unknown(id) : gone(id);
          await live.notes.moveTo(deleted.notes, id); // what a crash or a full disk left undone
          return { ok: true, attemptId: id, deletedAt: await mark(id), already: true };
        }
        if ((await findAttempt(db, id)) === undefined) return unknown(id);
        if (await inTheWay(id)) {
          const message = `another recording of attempt ${id} lies among the deleted ones: move deleted/${id}.ndjson of the data folder away first`;
          return refuse('other-recording-kept', message);
        }
        // From here on it is deleted: whatever ends the program now, the next start does the rest.
        await live.recordings.moveTo(deleted.recordings, id);
        await live.notes.moveTo(deleted.notes, id);
        return { ok: true, attemptId: id, deletedAt: await mark(id), already: false };
      }),
    restore: (attemptId) =>
      inTurn(async () => {
        const id = safeAttemptId(attemptId);
        if (id === undefined) return unknown(attemptId);
        const already = await live.recordings.has(id);
        if (!already) {
          if (!(await deleted.recordings.has(id))) return (await deletedSince(db)).has(id) ? gone(id) : unknown(id);
          // Notes first: until the recording is back the attempt is deleted, and the next start puts them with it.
          await deleted.notes.moveTo(live.notes, id);
          await deleted.recordings.moveTo(live.recordings, id);
        }
        await markDeleted(db, id, null);
        if ((await findAttempt(db, id)) === undefined) await indexFile(id);
        return { ok: true, attemptId: id, already };
      }),
    list: () => listDeleted(db),
    async has(attemptId) {
      const id = safeAttemptId(attemptId);
      return id !== undefined && (await deletedSince(db)).has(id);
    },
  };
}

/**
 * Makes notes and marks follow the recordings, as they do not after a crash in mid-move, or when somebody moved files by
 * hand. A deleted attempt whose recording was removed by hand leaves the index.
 *
 * @returns A sentence for each attempt whose notes lie in both places.
 */
export async function followRecordings(
  db: Kysely<Tables>,
  live: AttemptFiles,
  deleted: AttemptFiles,
): Promise<string[]> {
  const listed = new Set((await live.recordings.sizes()).keys());
  const away = new Set([...(await deleted.recordings.sizes()).keys()].filter((id) => !listed.has(id)));
  const marked = await deletedSince(db);
  for (const id of away) {
    if (marked.has(id)) continue;
    await markDeleted(db, id, (await deleted.recordings.changedAt(id)) ?? new Date().toISOString());
  }
  for (const id of marked.keys()) {
    if (listed.has(id)) await markDeleted(db, id, null);
    else if (!away.has(id)) await dropAttempt(db, id);
  }
  const twice: string[] = [];
  const follow = async (from: NoteFiles, to: NoteFiles, home: ReadonlySet<string>, name: string) => {
    for (const id of await from.ids()) {
      if (!home.has(id) || (await from.moveTo(to, id))) continue;
      twice.push(`notes of attempt ${id} lie both in notes and in deleted: those in ${name} are used`);
    }
  };
  await follow(live.notes, deleted.notes, away, 'deleted');
  await follow(deleted.notes, live.notes, listed, 'notes');
  return twice;
}
