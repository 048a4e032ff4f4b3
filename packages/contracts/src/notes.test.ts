// Notes: what may be one, and the order they are read in.
import { expect, test } from 'vitest';
import { inOrder, LONGEST_NOTE, Note, NoteText, parse } from './index.js';

const note: Note = {
  id: '5d3b1c62-93f0-4b8e-a3a7-1f2e6c9d0b41',
  atS: 72.4,
  author: 'instructor',
  name: 'Mo Teal',
  text: 'Look at the speed before the bank.',
  writtenAt: '2026-03-01T10:12:00Z',
};

test('spaces around the text and the name go, and an id is kept in small letters', () => {
  const read = Note.parse({ ...note, id: note.id.toUpperCase(), text: '  Two\nlines \n', name: ' Mo ' });
  expect(read).toEqual({ ...note, text: 'Two\nlines', name: 'Mo' });
});

test.each([
  [{ text: ' \n\t' }, 'text must not be empty, got " \\n\\t"'],
  [
    { text: 'x'.repeat(LONGEST_NOTE + 1) },
    `text must be at most ${LONGEST_NOTE} characters, got "${'x'.repeat(56)}...`,
  ],
  [{ text: 7 }, 'text must be text, got 7'],
  [{ id: '../../notes' }, 'id must be a UUID, got "../../notes"'],
  [{ atS: '12' }, 'atS must be a number, got "12"'],
  [{ atS: Number.NaN }, 'atS must be a number, got NaN'],
  [{ atS: undefined }, 'atS is missing: it must be a number'],
  [{ author: 'examiner' }, 'author must be "pilot" or "instructor", got "examiner"'],
  [{ name: '' }, 'name must not be empty, got ""'],
  [{ writtenAt: 'yesterday' }, 'writtenAt must be a date and time like 2026-01-31T09:30:00Z, got "yesterday"'],
  [{ html: '<b>' }, 'html is not a field that the note has'],
])('%j is refused in one sentence', (change, message) => {
  expect(parse(Note, { ...note, ...change }, 'the note')).toMatchObject({ ok: false, problem: { message } });
});

test('a text as long as is allowed is taken', () => {
  expect(NoteText.parse('x'.repeat(LONGEST_NOTE))).toHaveLength(LONGEST_NOTE);
});

test('notes to the whole attempt come first, then by moment, and of one moment the older first', () => {
  const made = (id: string, atS: number | null, writtenAt: string) => ({ ...note, id, atS, writtenAt });
  const given = [
    made('d', 90, '2026-03-01T10:00:00Z'),
    made('c', 72.4, '2026-03-01T10:12:00.500Z'),
    made('b', 72.4, '2026-03-01T10:12:00Z'),
    made('a', null, '2026-03-02T10:00:00Z'),
    made('e', -3, '2026-03-01T10:00:00Z'),
  ];
  expect(inOrder(given).map(({ id }) => id)).toEqual(['a', 'e', 'b', 'c', 'd']);
  expect(given[0]?.id).toBe('d');
});
