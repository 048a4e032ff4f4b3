// The file that holds the notes of one attempt.
import { z } from 'zod';
import { Note } from './notes.js';

export const NOTES_FORMAT = 'stillprop-notes';
export const NOTES_VERSION = 1;
/** Notes that one attempt may have. */
export const MOST_NOTES = 500;

export const NotesFile = z.strictObject({
  format: z.literal(NOTES_FORMAT, `must be "${NOTES_FORMAT}"`),
  version: z.literal(NOTES_VERSION, `must be ${NOTES_VERSION}`),
  notes: z.array(Note).max(MOST_NOTES),
});
export type NotesFile = z.infer<typeof NotesFile>;
