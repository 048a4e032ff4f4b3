// Notes for tests, invented.
import { randomUUID } from 'node:crypto';
import type { Note } from '@stillprop/contracts';

export const noteFor = (change: Partial<Note> = {}): Note => ({
  id: randomUUID(),
  atS: 2,
  author: 'instructor',
  name: 'Mo Teal',
  text: 'Look at the speed before the bank.',
  writtenAt: '2026-03-01T10:12:00Z',
  ...change,
});
