// Notes on disk: a crash leaves the file before or the one after; a damaged file is told and never written over.
import { createHash, randomUUID } from 'node:crypto';
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { MOST_NOTES, NotesFile } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { type AttemptStore, openStore } from './index.js';
import { noteFor } from './noteFor.fixture.js';
import { recordingText } from './recording.fixture.js';

const ID = 'b7d0f3a4-51c6-4f0e-8a77-2f5d9c3e1b60';
let dataDir: string;
let store: AttemptStore;
const onDisk = () => join(dataDir, 'notes', `${ID}.json`);

beforeEach(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'stillprop-notes-'));
  store = await openStore({ dataDir });
  const bytes = new TextEncoder().encode(recordingText({ attemptId: ID }));
  await store.receive(bytes, createHash('sha256').update(bytes).digest('hex'));
});
afterEach(async () => {
  await store.close();
  await rm(dataDir, { recursive: true });
});

test('notes lie in a file of the attempt, readable by itself, and nothing is left beside it', async () => {
  expect(await readdir(join(dataDir, 'notes'))).toEqual([]);
  const note = noteFor();
  await store.notes.add(ID, note);
  expect(await readdir(join(dataDir, 'notes'))).toEqual([`${ID}.json`]);
  expect(NotesFile.parse(JSON.parse(await readFile(onDisk(), 'utf8')))).toEqual({
    format: 'stillprop-notes',
    version: 1,
    notes: [note],
  });
});

test.each([
  ['{"format":"stillprop-notes","version":1,"notes":[{"id"', /is not JSON: /],
  ['{"format":"stillprop-notes","version":2,"notes":[]}', /version must be 1, got 2;/],
  [Buffer.from([0x7b, 0xff, 0x7d]), /the file is not UTF-8 text;/],
])('a damaged file is told, and stays as it is: %j', async (bytes, why) => {
  await store.notes.add(ID, noteFor());
  await writeFile(onDisk(), bytes);
  const { id } = noteFor();
  for (const asked of [
    store.notes.list(ID),
    store.notes.add(ID, noteFor()),
    store.notes.edit(ID, id, 'x'),
    store.notes.remove(ID, id),
  ]) {
    const refused = await asked;
    expect(refused).toMatchObject({ ok: false, code: 'damaged' });
    expect(refused.ok || refused.message).toMatch(why);
    expect(refused.ok || refused.message).toContain(`notes/${ID}.json of the data folder`);
  }
  expect(await readFile(onDisk())).toEqual(Buffer.from(bytes));
  expect((await store.list({ limit: 1 })).total).toBe(1);
});

test('when the disk refuses, the note is not kept, those before stay, and the next try works', async () => {
  const [kept, refused] = [noteFor({ text: 'Kept', atS: 1 }), noteFor({ text: 'Again' })];
  await store.notes.add(ID, kept);
  const aside = join(dataDir, randomUUID());
  // A folder in the place of the file: reading and renaming onto it are refused.
  await writeFile(aside, await readFile(onDisk()));
  await rm(onDisk());
  await mkdir(onDisk());
  await expect(store.notes.add(ID, refused)).rejects.toThrow('EISDIR');
  await rm(onDisk(), { recursive: true });
  await writeFile(onDisk(), await readFile(aside));
  expect(await store.notes.list(ID)).toEqual({ ok: true, notes: [kept] });
  expect(await store.notes.add(ID, refused)).toMatchObject({ ok: true, already: false });
});

test('an attempt has so many notes and no more, until one is taken away', async () => {
  const notes = Array.from({ length: MOST_NOTES }, () => noteFor());
  await writeFile(onDisk(), JSON.stringify({ format: 'stillprop-notes', version: 1, notes }));
  const one = noteFor();
  expect(await store.notes.add(ID, one)).toEqual({
    ok: false,
    code: 'full',
    message: `attempt ${ID} has ${MOST_NOTES} notes, and more are not taken: remove one first`,
  });
  expect(await store.notes.add(ID, notes[7] ?? one)).toMatchObject({ ok: true, already: true });
  await store.notes.remove(ID, notes[7]?.id ?? '');
  expect(await store.notes.add(ID, one)).toMatchObject({ ok: true, already: false });
});
