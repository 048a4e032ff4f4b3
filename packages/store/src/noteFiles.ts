// Notes as files apart from the recordings, one for each attempt that has any: no rebuilt index can lose them.
import {
  inOrder,
  NOTES_FORMAT,
  NOTES_VERSION,
  type Note,
  NotesFile,
  type Parsed,
  parseJson,
} from '@stillprop/contracts';
import { attemptPath, openFolder, readIfThere, writeWhole } from './wholeFiles.js';

const SUFFIX = '.json';

export interface NoteFiles {
  /** The notes of an attempt, in order; none where there is no file. A file that cannot be read says why. */
  read(attemptId: string): Promise<Parsed<readonly Note[]>>;
  /** Returns once they are safe on disk in the place of those before. */
  write(attemptId: string, notes: readonly Note[]): Promise<void>;
}

/** Opens (and makes) a folder of notes. */
export async function openNoteFiles(folder: string): Promise<NoteFiles> {
  await openFolder(folder);
  return {
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
  };
}
