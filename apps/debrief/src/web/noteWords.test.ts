// Words of notes, and what fits on the printed sheet.
import { expect, test } from 'vitest';
import { authorWords, fitsOnPaper } from './noteWords.js';
import { momentWords } from './words.js';

test.each([
  [12.43, '+12.4\u00a0s'],
  [-3, '\u22123.0\u00a0s'],
  [0.02, '0.0\u00a0s'],
  [-0.02, '0.0\u00a0s'],
])('%d s from the loss of power is %s', (sinceS, words) => {
  expect(momentWords(sinceS)).toBe(words);
});

test('who wrote it', () => {
  expect(authorWords({ author: 'instructor', name: 'Mo Teal' })).toBe('Mo Teal, instructor');
  expect(authorWords({ author: 'pilot', name: null })).toBe('Pilot');
});

test('a few short notes fit on paper; a long one, many, or one of many lines do not', () => {
  const short = { text: 'Look at the speed before the bank.' };
  expect(fitsOnPaper([])).toBe(true);
  expect(fitsOnPaper([short, short, short])).toBe(true);
  expect(fitsOnPaper(Array(10).fill(short))).toBe(false);
  expect(fitsOnPaper([{ text: 'x'.repeat(1000) }])).toBe(false);
  expect(fitsOnPaper([{ text: 'a\n'.repeat(30) }])).toBe(false);
});
