import { expect, test } from 'vitest';
import { lastRead } from './lastRead.js';
import { recordingText } from './recording.fixture.js';
import { sha256Of } from './recordingBytes.js';

const bytesOf = (n: number) =>
  new TextEncoder().encode(recordingText({ attemptId: `7f1f2f57-2c3d-4a55-9c11-00000000000${n}` }));

test('the same bytes are parsed once, others anew, and an old one is let go', () => {
  const read = lastRead();
  const first = read(bytesOf(1));
  expect(first.sha256).toBe(sha256Of(bytesOf(1)));
  expect(first.read.ok && first.read.recording.header.attemptId).toMatch(/1$/);
  expect(read(bytesOf(1)).read).toBe(first.read);
  const second = read(bytesOf(2));
  expect(second.read.ok && second.read.recording.header.attemptId).toMatch(/2$/);
  expect(read(bytesOf(1)).read).toBe(first.read);
  read(bytesOf(3));
  expect(read(bytesOf(2)).read).not.toBe(second.read);
});

test('damaged bytes give their problem each time', () => {
  const read = lastRead();
  for (let time = 0; time < 2; time++) expect(read(new Uint8Array([0xff, 10])).read.ok).toBe(false);
});
