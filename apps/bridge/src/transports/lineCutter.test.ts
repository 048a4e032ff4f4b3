// Lines out of a stream: the same however its pieces fall, and never more held than one line.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LineCutter } from './lineCutter.js';

const bytes = (text: string) => new TextEncoder().encode(text);
function cut(pieces: readonly Uint8Array[], longest = 20) {
  const cutter = new LineCutter(longest);
  const lines: string[] = [];
  let tooLong = 0;
  for (const piece of pieces) {
    const given = cutter.give(piece);
    lines.push(...given.lines.map((line) => new TextDecoder().decode(line)));
    tooLong += given.tooLong;
  }
  return { lines, tooLong };
}

test('half lines wait for their other half; either line break ends one; empty lines are none', () => {
  expect(cut([bytes('one\ntw'), bytes('o\r'), bytes('\n\r\n\nthree\nfour')])).toEqual({
    lines: ['one', 'two', 'three'],
    tooLong: 0,
  });
});

test('a line of the longest length is kept, with either line break', () => {
  const text = 'x'.repeat(20);
  expect(cut([bytes(`${text}\n${text}\r\n`)])).toEqual({ lines: [text, text], tooLong: 0 });
});

test('a longer one is dropped whole and counted once, and the next one is read', () => {
  for (const longer of ['x'.repeat(21), 'x'.repeat(500)]) {
    const text = bytes(`${longer}\nnext\n`);
    const each = [...text].map((byte) => new Uint8Array([byte]));
    for (const pieces of [[text], each]) expect(cut(pieces)).toEqual({ lines: ['next'], tooLong: 1 });
  }
});

test('the lines are the same however the pieces fall', () => {
  const line = fc.stringMatching(/^[a-z\r ]{0,30}$/);
  fc.assert(
    fc.property(fc.array(line, { maxLength: 8 }), fc.array(fc.nat(300), { maxLength: 12 }), (lines, cuts) => {
      const whole = bytes(lines.map((each) => `${each}\n`).join(''));
      const places = [0, ...cuts.filter((place) => place < whole.length).sort((a, b) => a - b), whole.length];
      const pieces = places.slice(1).map((end, index) => whole.slice(places[index], end));
      expect(cut(pieces)).toEqual(cut([whole]));
      const kept = lines.map((each) => each.replace(/\r$/, '')).filter((each) => each !== '' && each.length <= 20);
      expect(cut([whole]).lines).toEqual(kept);
    }),
  );
});
