// The cursor of the list: what is written is read back, and nothing else is taken for one.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cursorOf, parseCursor } from './cursor.js';

test('every place in the list survives the way through a URL', () => {
  const day = fc.date({ min: new Date(0), max: new Date('2099-12-31'), noInvalidDate: true });
  fc.assert(
    fc.property(day, fc.uuid(), (date, attemptId) => {
      const cursor = { startedAt: date.toISOString(), attemptId };
      expect(parseCursor(decodeURIComponent(encodeURIComponent(cursorOf(cursor))))).toEqual(cursor);
    }),
  );
});

test('no other text is taken for a cursor', () => {
  fc.assert(fc.property(fc.string(), (text) => parseCursor(text) === undefined));
  expect(parseCursor('2026-03-01T10:00:00.000Z_B7D0F3A4-51C6-4F0E-8A77-2F5D9C3E1B60')).toBeUndefined();
});
