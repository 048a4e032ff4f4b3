// Words of notes, how many fit on the printed sheet, and who wrote the last one, which the browser keeps.
import type { Note } from '@stillprop/contracts';

export type Author = Pick<Note, 'author' | 'name'>;

/** `Mo Teal, instructor`; without a name `Instructor`. */
export function authorWords({ author, name }: Author): string {
  return name === null ? `${author.charAt(0).toUpperCase()}${author.slice(1)}` : `${name}, ${author}`;
}

/** Lines of the left column of the printed sheet that notes may take; and letters in a line of it. */
const PRINTED_LINES = 9;
const LINE_LETTERS = 58;

/** Whether the printed sheet has room for them all: some and not others would mislead. */
export function fitsOnPaper(notes: readonly Pick<Note, 'text'>[]): boolean {
  const linesOf = (text: string) =>
    text.split('\n').reduce((sum, line) => sum + Math.max(1, Math.ceil(line.length / LINE_LETTERS)), 0);
  return notes.reduce((sum, { text }) => sum + 1 + linesOf(text), 0) <= PRINTED_LINES;
}

const AUTHOR_KEY = 'stillprop.noteAuthor';
const NAME_KEY = 'stillprop.noteName';

export function lastAuthor(): Author {
  try {
    const author = localStorage.getItem(AUTHOR_KEY) === 'instructor' ? 'instructor' : 'pilot';
    return { author, name: localStorage.getItem(NAME_KEY) };
  } catch {
    return { author: 'pilot', name: null };
  }
}

export function keepAuthor({ author, name }: Author) {
  try {
    localStorage.setItem(AUTHOR_KEY, author);
    if (name === null) localStorage.removeItem(NAME_KEY);
    else localStorage.setItem(NAME_KEY, name);
  } catch {
    // A browser that keeps nothing asks anew.
  }
}
