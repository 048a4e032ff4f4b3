// Notes of attempts: listed, added once each, changed, taken away; a file that cannot be read is never written over.
import { isDeepStrictEqual } from 'node:util';
import { MOST_NOTES, type Note } from '@stillprop/contracts';
import type { NoteFiles } from './noteFiles.js';
import { safeAttemptId } from './wholeFiles.js';

export type NoteRefusal = 'no-attempt' | 'no-note' | 'other-note-kept' | 'full' | 'damaged';
interface Refused {
  readonly ok: false;
  readonly code: NoteRefusal;
  /** One sentence. */
  readonly message: string;
}
export type NotesFound = { readonly ok: true; readonly notes: readonly Note[] } | Refused;
/** `already`: it was so before, and nothing was written. */
export type NoteKept = { readonly ok: true; readonly note: Note; readonly already: boolean } | Refused;

export interface AttemptNotes {
  /** In order: those to the whole attempt first, then by moment. */
  list(attemptId: string): Promise<NotesFound>;
  /**
   * Keeps a note: when this returns `ok`, it is safe on disk. The same note again changes nothing; another one under its
   * id is refused.
   */
  add(attemptId: string, note: Note): Promise<NoteKept>;
  edit(attemptId: string, noteId: string, text: string): Promise<NoteKept>;
  /** @returns The note as it was. */
  remove(attemptId: string, noteId: string): Promise<NoteKept>;
}

/**
 * @param isListed Whether an attempt is there to have notes.
 * @param inTurn One writer at a time.
 */
export function attemptNotes(
  files: NoteFiles,
  isListed: (attemptId: string) => Promise<boolean>,
  inTurn: <T>(work: () => Promise<T>) => Promise<T>,
): AttemptNotes {
  async function list(attemptId: string): Promise<NotesFound> {
    const id = safeAttemptId(attemptId);
    if (id === undefined || !(await isListed(id))) {
      return { ok: false, code: 'no-attempt', message: `there is no attempt ${attemptId}` };
    }
    const read = await files.read(id);
    if (read.ok) return { ok: true, notes: read.value };
    const message = `the notes of attempt ${id} cannot be read: in notes/${id}.json of the data folder ${read.problem.message}; mend that file or move it away`;
    return { ok: false, code: 'damaged', message };
  }

  /** Lets `change` say what becomes of the note of that id and of the others. */
  const changing = (
    attemptId: string,
    noteId: string,
    change: (kept: Note | undefined, others: readonly Note[]) => NoteKept & { readonly write?: readonly Note[] },
  ) =>
    inTurn(async (): Promise<NoteKept> => {
      const found = await list(attemptId);
      if (!found.ok) return found;
      const id = noteId.toLowerCase();
      const others = found.notes.filter((note) => note.id !== id);
      const { write, ...result } = change(
        found.notes.find((note) => note.id === id),
        others,
      );
      if (write !== undefined) await files.write(attemptId, write);
      return result;
    });

  const unknown = (noteId: string): Refused => ({ ok: false, code: 'no-note', message: `there is no note ${noteId}` });

  return {
    list,
    add: (attemptId, note) =>
      changing(attemptId, note.id, (kept, others) => {
        if (kept !== undefined) {
          if (isDeepStrictEqual(kept, note)) return { ok: true, note: kept, already: true };
          const message = `note ${note.id} is kept already with other contents, and those stay: a new note must have a new id`;
          return { ok: false, code: 'other-note-kept', message };
        }
        if (others.length >= MOST_NOTES) {
          const message = `attempt ${attemptId} has ${MOST_NOTES} notes, and more are not taken: remove one first`;
          return { ok: false, code: 'full', message };
        }
        return { ok: true, note, already: false, write: [...others, note] };
      }),
    edit: (attemptId, noteId, text) =>
      changing(attemptId, noteId, (kept, others) => {
        if (kept === undefined) return unknown(noteId);
        const note = { ...kept, text };
        return kept.text === text
          ? { ok: true, note, already: true }
          : { ok: true, note, already: false, write: [...others, note] };
      }),
    remove: (attemptId, noteId) =>
      changing(attemptId, noteId, (kept, others) =>
        kept === undefined ? unknown(noteId) : { ok: true, note: kept, already: false, write: others },
      ),
  };
}
