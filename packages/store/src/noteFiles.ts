// Notes as files apart from the recordings, one for each attempt that has any: no rebuilt index can lose them.

import { readdir, stat } from 'node:fs/promises';
import {
  inOrder,
  NOTES_FORMAT,
  NOTES_VERSION,
  type Note,
  NotesFile,
  type Parsed,
  parseJson,
} from '@stillprop/contracts';
import { attemptPath, ifThere, moveWhole, openFolder, readIfThere, safeAttemptId, writeWhole } from './wholeFiles.js';

const SUFFIX = '.json';

export interface NoteFiles {
  /** The notes of an attempt, in order; none where there is no file. A file that cannot be read says why. */
  read(attemptId: string): Promise<Parsed<readonly Note[]>>;
  /** Returns once they are safe on disk in the place of those before. */
  write(attemptId: string, notes: readonly Note[]): Promise<void>;
  /** Attempts that have a file of notes. */
  ids(): Promise<readonly string[]>;
  /**
   * Moves a file of notes into another folder, as it is.
   *
   * @returns false, and nothing is moved, if there is none, or if one of that attempt lies there already.
   */
  moveTo(other: NoteFiles, attemptId: string): Promise<boolean>;
  readonly folder: string;
}

/** Opens (and makes) a folder of notes. */
export async function openNoteFiles(folder: string): Promise<NoteFiles> {
  await openFolder(folder);
  return {
    folder,
    async read(attemptId) {
      const bytes = await readIfThere(attemptPath(folder, attemptId, SUFFIX));
      if (bytes === undefined) return { ok: true, value: [] };
      let text: string;
      try {
        text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
      } catch {
        return { ok: false, problem: { field: 'the file', message: 'the file is not UTF-8 text' } };
      }
      const parsed = parseJson(NotesFile, text, 'the file');
      return parsed.ok ? { ok: true, value: inOrder(parsed.value.notes) } : parsed;
    },
    async write(attemptId, notes) {
      const file: NotesFile = { format: NOTES_FORMAT, version: NOTES_VERSION, notes: inOrder(notes) };
      const text = `${JSON.stringify(file, null, 2)}\n`;
      await writeWhole(attemptPath(folder, attemptId, SUFFIX), new TextEncoder().encode(text));
    },
    async ids() {
      const names = (await readdir(folder)).filter((name) => name.endsWith(SUFFIX));
      return names.map((name) => safeAttemptId(name.slice(0, -SUFFIX.length))).filter((id) => id !== undefined);
    },
    async moveTo(other, attemptId) {
      const to = attemptPath(other.folder, attemptId, SUFFIX);
      if ((await ifThere(stat(to))) !== undefined) return false;
      return moveWhole(attemptPath(folder, attemptId, SUFFIX), to);
    },
  };
}
