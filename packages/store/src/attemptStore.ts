// The store of attempts: recordings on disk are the truth, the index over them can be rebuilt at any time.
import type {
  AttemptFilter,
  AttemptSummary,
  Comparable,
  Comparison,
  Progress,
  Recording,
  Score,
} from '@stillprop/contracts';
import type { Kysely } from 'kysely';
import {
  dropAttempt,
  findAttempt,
  indexedBytes,
  indexedSha256,
  listAttempts,
  putAttempt,
  putScore,
  unscoredIds,
} from './attemptIndex.js';
import { type AttemptNotes, attemptNotes } from './attemptNotes.js';
import { type CompareChoice, type CompareQuery, comparable, compareStudents } from './compare.js';
import { progressOf } from './compareProgress.js';
import { cursorOf } from './cursor.js';
import { type AttemptFiles, type DeletedAttempts, deletedAttempts, followRecordings } from './deletedAttempts.js';
import { lastRead } from './lastRead.js';
import { deletedSince } from './liveAttempts.js';
import { goesOn, recordingFromBytes, sha256Of } from './recordingBytes.js';
import type { RecordingFiles } from './recordingFiles.js';
import type { Tables } from './schema.js';
import { safeAttemptId } from './wholeFiles.js';

export interface StoredAttempt {
  readonly row: AttemptSummary;
  readonly score: Score | null;
}

export interface AttemptQuery extends AttemptFilter {
  /** Rows in a page. */
  readonly limit: number;
  /** `next` of the page before. */
  readonly before?: string | undefined;
  readonly student?: string | undefined;
  readonly scenarioId?: string | undefined;
  readonly rubricId?: string | undefined;
  readonly rubricRevision?: number | undefined;
  /** Scored, or found to be beyond scoring, by this engine. */
  readonly engineRevision?: string | undefined;
}

export interface AttemptPage {
  readonly attempts: readonly AttemptSummary[];
  /** Of all pages. */
  readonly total: number;
  readonly next: string | null;
}

export type ReceiveRefusal = 'hash-differs' | 'no-recording' | 'other-recording-kept';
export type Received =
  | { readonly ok: true; readonly attemptId: string; readonly sha256: string; readonly already: boolean }
  | { readonly ok: false; readonly code: ReceiveRefusal; readonly message: string };

export interface ReindexReport {
  /** Recordings written to the index, of attempts that are listed. */
  readonly indexed: number;
  /** Rows taken out of the index: their recording is gone or cannot be read. */
  readonly dropped: number;
  /** One sentence for each recording that cannot be read. It stays where it is. */
  readonly unreadable: readonly string[];
}

export interface AttemptStore {
  /**
   * Keeps a recording: when this returns `ok`, it is safe on disk and in the list. The same bytes again change nothing
   * (`already`). Other bytes of a kept id are refused, unless the kept ones had broken off and these go on from there. A
   * deleted attempt is acknowledged in the same way, and stays deleted.
   *
   * @param bytes The recording, UTF-8.
   * @param sha256 Hash of `bytes` as the sender reckoned it, hex.
   * @throws {Error} If the disk refuses. Then it is not listed; its file may be kept all the same, whole, where only the
   *   index refused: receiving it again lists it, and so does opening the store anew.
   */
  receive(bytes: Uint8Array, sha256: string): Promise<Received>;
  /**
   * Attempts, newest first.
   *
   * @throws {RangeError} If `before` is not the `next` of a page.
   */
  list(query: AttemptQuery): Promise<AttemptPage>;
  /** What can be compared: each scenario with each rubric and revision of it that attempts were scored by. */
  comparable(): Promise<readonly Comparable[]>;
  /** Counts and spread of the scores and measured figures of each student, a page of students at a time. */
  compare(query: CompareQuery): Promise<Comparison>;
  /** One student's figures over time. */
  progress(choice: CompareChoice, student: string): Promise<Progress>;
  get(attemptId: string): Promise<StoredAttempt | undefined>;
  /** The recording as it was received; undefined if there is none. */
  recordingBytes(attemptId: string): Promise<Uint8Array | undefined>;
  /** Recording in memory, not to be changed, or what is wrong with it; undefined if there is none. */
  recording(attemptId: string): Promise<{ recording: Recording; sha256: string } | { problem: string } | undefined>;
  /** Ids that this revision of the engine has neither scored nor found a problem with, newest first. */
  unscored(engineRevision: string): Promise<readonly string[]>;
  /**
   * Writes the score, or why there is none, of the recording with this hash.
   *
   * @returns false, and nothing is written, when that recording has been replaced meanwhile.
   */
  saveScore(
    attemptId: string,
    sha256: string,
    result: Score | { readonly engineRevision: string; readonly problem: string },
  ): Promise<boolean>;
  /** What people wrote to attempts: in files of their own, so that rebuilding the index leaves them alone. */
  readonly notes: AttemptNotes;
  readonly deleted: DeletedAttempts;
  /** Rebuilds the index from the recordings alone: afterwards nothing is scored, and what is deleted still is. */
  reindex(): Promise<ReindexReport>;
  /**
   * As `reindex`, but only where recordings and index differ, as they do after a crash; no row is dropped but those of
   * deleted attempts whose recording somebody removed.
   */
  catchUp(): Promise<ReindexReport>;
  close(): Promise<void>;
}

export function attemptStore(db: Kysely<Tables>, live: AttemptFiles, away: AttemptFiles): AttemptStore {
  const files = live.recordings;
  let last: Promise<unknown> = Promise.resolve();
  const readAgain = lastRead();
  /** One writer of recordings at a time: two senders of one attempt must not pass each other. */
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = last.then(work);
    last = mine.catch(() => undefined);
    return mine;
  };

  /** Where the recording of an attempt lies, or is to lie: among the deleted ones only if it is there already. */
  async function homeOf(attemptId: string): Promise<RecordingFiles> {
    return !(await files.has(attemptId)) && (await away.recordings.has(attemptId)) ? away.recordings : files;
  }

  async function keep(recording: Recording, bytes: Uint8Array, sha256: string): Promise<Received> {
    const { attemptId } = recording.header;
    const indexIt = () => putAttempt(db, recording, { sha256, sizeBytes: bytes.length });
    const home = await homeOf(attemptId);
    const stored = await home.read(attemptId);
    if (stored !== undefined && sha256Of(stored) === sha256) {
      if ((await indexedSha256(db, attemptId.toLowerCase())) !== sha256) await indexIt();
      return { ok: true, attemptId, sha256, already: true };
    }
    if (stored !== undefined && !goesOn(stored, bytes)) {
      const message = `attempt ${attemptId} is kept already with other contents, and those stay: a new attempt must have a new id`;
      return { ok: false, code: 'other-recording-kept', message };
    }
    await home.write(attemptId, bytes);
    await indexIt();
    return { ok: true, attemptId, sha256, already: false };
  }

  async function indexFile(attemptId: string): Promise<string | undefined> {
    const bytes = await (await homeOf(attemptId)).read(attemptId);
    if (bytes === undefined) return undefined;
    const read = recordingFromBytes(bytes);
    if (!read.ok) return `recording ${attemptId} cannot be read: ${read.problem.message}`;
    const inside = read.recording.header.attemptId;
    if (inside.toLowerCase() !== attemptId) return `recording ${attemptId} holds another attempt, ${inside}`;
    await putAttempt(db, read.recording, { sha256: sha256Of(bytes), sizeBytes: bytes.length });
    return undefined;
  }

  async function indexAll(ids: Iterable<string>): Promise<{ indexed: Set<string>; unreadable: string[] }> {
    const unreadable: string[] = [];
    const indexed = new Set<string>();
    for (const id of ids) {
      const problem = await indexFile(id);
      if (problem === undefined) indexed.add(id);
      else unreadable.push(problem);
    }
    return { indexed, unreadable };
  }

  /** Bytes on disk by attempt id, of listed and of deleted recordings. */
  const sizes = async () => new Map([...(await away.recordings.sizes()), ...(await files.sizes())]);
  /** How many of these are listed. */
  const listedOf = async (ids: ReadonlySet<string>) => {
    const deleted = await deletedSince(db);
    return [...ids].filter((id) => !deleted.has(id)).length;
  };

  const recordingBytes = async (attemptId: string): Promise<Uint8Array | undefined> => {
    const id = safeAttemptId(attemptId);
    return id === undefined ? undefined : files.read(id);
  };

  return {
    async receive(bytes, sha256) {
      const actual = sha256Of(bytes);
      if (actual !== sha256.toLowerCase()) {
        const message = `the SHA-256 of the recording must be ${actual}, as its bytes give it, got ${sha256}`;
        return { ok: false, code: 'hash-differs', message };
      }
      const read = recordingFromBytes(bytes);
      if (!read.ok) return { ok: false, code: 'no-recording', message: read.problem.message };
      return inTurn(() => keep(read.recording, bytes, actual));
    },
    async list(query) {
      const { rows, more, total } = await listAttempts(db, query);
      const lowest = rows.at(-1);
      return { attempts: rows, total, next: more && lowest !== undefined ? cursorOf(lowest) : null };
    },
    comparable: () => comparable(db),
    compare: (query) => compareStudents(db, query),
    progress: (choice, student) => progressOf(db, choice, student),
    async get(attemptId) {
      const id = safeAttemptId(attemptId);
      return id === undefined ? undefined : findAttempt(db, id);
    },
    recordingBytes,
    async recording(attemptId) {
      const bytes = await recordingBytes(attemptId);
      if (bytes === undefined) return undefined;
      const { read, sha256 } = readAgain(bytes);
      return read.ok ? { recording: read.recording, sha256 } : { problem: read.problem.message };
    },
    unscored: (engineRevision) => unscoredIds(db, engineRevision),
    saveScore: (attemptId, sha256, result) => putScore(db, attemptId.toLowerCase(), sha256, result),
    notes: attemptNotes(live.notes, async (id) => (await findAttempt(db, id)) !== undefined, inTurn),
    deleted: deletedAttempts(db, live, away, indexFile, inTurn),
    reindex: () =>
      inTurn(async () => {
        const twice = await followRecordings(db, live, away);
        const { indexed, unreadable } = await indexAll((await sizes()).keys());
        const gone = [...(await indexedBytes(db)).keys()].filter((id) => !indexed.has(id));
        for (const id of gone) await dropAttempt(db, id);
        return { indexed: await listedOf(indexed), dropped: gone.length, unreadable: [...unreadable, ...twice] };
      }),
    catchUp: () =>
      inTurn(async () => {
        const twice = await followRecordings(db, live, away);
        const known = await indexedBytes(db);
        const differing = [...(await sizes())]
          .filter(([id, size]) => known.get(id)?.sizeBytes !== size)
          .map(([id]) => id);
        const { indexed, unreadable } = await indexAll(differing);
        return { indexed: await listedOf(indexed), dropped: 0, unreadable: [...unreadable, ...twice] };
      }),
    async close() {
      await last;
      await db.destroy();
    },
  };
}
