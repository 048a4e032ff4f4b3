// Notes that people write to an attempt: at one of its moments or to the whole of it. They are no part of the recording.
import { z } from 'zod';

export const LONGEST_NOTE = 2000;

export const NoteId = z.uuid('must be a UUID').toLowerCase();

/** What a note says: plain text, never markup. Spaces before and after it go. */
export const NoteText = z
  .string('must be text')
  .trim()
  .min(1, 'must not be empty')
  .max(LONGEST_NOTE, `must be at most ${LONGEST_NOTE} characters`);

export const Note = z.strictObject({
  /** Made by whoever writes the note, so that one sent twice is there once. */
  id: NoteId,
  /** The moment it belongs to (the recording's seconds); null: the whole attempt. */
  atS: z.number().nullable(),
  author: z.enum(['pilot', 'instructor']),
  /** Who that is; null: not said. */
  name: z.string('must be text').trim().min(1, 'must not be empty').max(80, 'must be at most 80 characters').nullable(),
  text: NoteText,
  /** ISO 8601 with Z. */
  writtenAt: z.iso.datetime('must be a date and time like 2026-01-31T09:30:00Z'),
});
export type Note = z.infer<typeof Note>;

/** All notes of one attempt: those to the whole of it first, then by moment, then in the order they were written. */
export const NoteList = z.strictObject({ notes: z.array(Note) });
export type NoteList = z.infer<typeof NoteList>;

export const NoteEdit = z.strictObject({ text: NoteText });
export type NoteEdit = z.infer<typeof NoteEdit>;

/** In the order of a {@link NoteList}. */
export function inOrder(notes: readonly Note[]): Note[] {
  const momentOf = ({ atS }: Note) => atS ?? Number.NEGATIVE_INFINITY;
  return [...notes].sort((a, b) => {
    const [first, second] = [momentOf(a), momentOf(b)];
    if (first !== second) return first - second;
    if (a.writtenAt !== b.writtenAt) return Date.parse(a.writtenAt) - Date.parse(b.writtenAt);
    return a.id < b.id ? -1 : 1;
  });
}
