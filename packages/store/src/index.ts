// Public names of the store package.
export type { AttemptNotes, NoteKept, NoteRefusal, NotesFound } from './attemptNotes.js';
export type {
  AttemptPage,
  AttemptQuery,
  AttemptStore,
  Received,
  ReceiveRefusal,
  ReindexReport,
  StoredAttempt,
} from './attemptStore.js';
export type { CompareChoice, CompareQuery } from './compare.js';
export { parseCursor } from './cursor.js';
export type { DeletedAttempts, DeleteRefusal, Moved } from './deletedAttempts.js';
export { openStore, type StoreOptions } from './openStore.js';
