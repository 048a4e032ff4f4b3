// Writing, changing and removing notes, asked of the debrief server.
import { Note } from '@stillprop/contracts';
import { ask, notesPath, withBody } from './api.js';

const notePath = (attemptId: string, noteId: string) => `${notesPath(attemptId)}/${encodeURIComponent(noteId)}`;

/** One sent twice is there once. */
export const addNote = (attemptId: string, note: Note) =>
  ask(Note, notesPath(attemptId), undefined, withBody('POST', note));

export const editNote = (attemptId: string, noteId: string, text: string) =>
  ask(Note, notePath(attemptId, noteId), undefined, withBody('PATCH', { text }));

export const removeNote = (attemptId: string, noteId: string) =>
  ask(Note, notePath(attemptId, noteId), undefined, { method: 'DELETE' });
