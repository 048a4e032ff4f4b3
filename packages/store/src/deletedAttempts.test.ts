// Deleting on disk: nothing is ever removed, a crash at any step leaves nothing lost, files moved by hand are followed.
import { createHash, randomUUID } from 'node:crypto';
import { mkdtemp, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { type AttemptStore, openStore } from './index.js';
import { noteFor } from './noteFor.fixture.js';
import { recordingText, scoreFor } from './recording.fixture.js';

const ID = 'b7d0f3a4-51c6-4f0e-8a77-2f5d9c3e1b60';
const TEXT = recordingText({ attemptId: ID });
const NOTE = noteFor();
let dataDir: string;
let store: AttemptStore;
const said: string[] = [];

const send = (text: string) => {
  const bytes = new TextEncoder().encode(text);
  return store.receive(bytes, createHash('sha256').update(bytes).digest('hex'));
};
const open = async () => {
  store = await openStore({ dataDir, log: (sentence) => said.push(sentence) });
};
const move = (name: string, from: string, to: string) => rename(join(dataDir, from, name), join(dataDir, to, name));
const rows = (statement: string) => {
  const raw = new BetterSqlite3(join(dataDir, 'stillprop.sqlite'));
  raw.exec(statement);
  raw.close();
};
const places = async () => {
  const names = await Promise.all(['recordings', 'notes', 'deleted'].map((folder) => readdir(join(dataDir, folder))));
  return names.map((inside) => inside.sort());
};
const LISTED = [[`${ID}.ndjson`], [`${ID}.json`], []];
const DELETED = [[], [], [`${ID}.json`, `${ID}.ndjson`]];

beforeEach(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'stillprop-deleted-'));
  said.length = 0;
  await open();
  await send(TEXT);
  await store.saveScore(ID, (await store.get(ID))?.row.sha256 ?? '', scoreFor(ID));
  await store.notes.add(ID, NOTE);
});
afterEach(async () => {
  await store.close();
  await rm(dataDir, { recursive: true });
});

test('recording and notes are moved as they are, and back', async () => {
  const bytes = await readFile(join(dataDir, 'notes', `${ID}.json`));
  await store.deleted.delete(ID);
  expect(await places()).toEqual(DELETED);
  expect(await readFile(join(dataDir, 'deleted', `${ID}.ndjson`), 'utf8')).toBe(TEXT);
  expect(await readFile(join(dataDir, 'deleted', `${ID}.json`))).toEqual(bytes);
  await store.deleted.restore(ID);
  expect(await places()).toEqual(LISTED);
  expect(await readFile(join(dataDir, 'recordings', `${ID}.ndjson`), 'utf8')).toBe(TEXT);
  expect(await readFile(join(dataDir, 'notes', `${ID}.json`))).toEqual(bytes);
});

const HALVES = ['recordings', 'deleted'].flatMap((recording) =>
  ['notes', 'deleted'].flatMap((notes) => [true, false].map((marked) => ({ recording, notes, marked }))),
);
test.each(HALVES)(
  'a crash that left the recording in $recording, notes in $notes, marked $marked: the next start follows the recording',
  async ({ recording, notes, marked }) => {
    await store.close();
    if (recording === 'deleted') await move(`${ID}.ndjson`, 'recordings', 'deleted');
    if (notes === 'deleted') await move(`${ID}.json`, 'notes', 'deleted');
    if (marked) rows(`insert into deleted values ('${ID}', '2026-03-02T08:00:00.000Z')`);
    await open();
    const away = recording === 'deleted';
    expect(await places()).toEqual(away ? DELETED : LISTED);
    expect([(await store.list({ limit: 5 })).total, (await store.deleted.list()).length]).toEqual(
      away ? [0, 1] : [1, 0],
    );
    expect(said).toEqual([]);
    expect(await store.deleted.restore(ID)).toMatchObject({ ok: true, already: !away });
    expect((await store.get(ID))?.score?.overall).toBe(71);
    expect(await store.notes.list(ID)).toEqual({ ok: true, notes: [NOTE] });
    expect(new TextDecoder().decode(await store.recordingBytes(ID))).toBe(TEXT);
  },
);

test('without its index, what is deleted stays so, and is restored', async () => {
  await store.deleted.delete(ID);
  await send(recordingText({ attemptId: randomUUID() }));
  await store.close();
  for (const name of await readdir(dataDir)) if (name.startsWith('stillprop.sqlite')) await rm(join(dataDir, name));
  await open();
  expect(said).toEqual(['1 recording found that the list of attempts lacked: added']);
  expect((await store.list({ limit: 5 })).total).toBe(1);
  const [row] = await store.deleted.list();
  expect(row?.attemptId).toBe(ID);
  expect(Date.parse(row?.deletedAt ?? '')).toBeGreaterThan(Date.parse('2026-01-01T00:00:00Z'));
  await store.deleted.restore(ID);
  expect(await store.notes.list(ID)).toEqual({ ok: true, notes: [NOTE] });
  expect((await store.list({ limit: 5 })).total).toBe(2);
});

test('when only the index refuses, deleting says so; asked again, or started anew, it is done', async () => {
  rows("create trigger refuse before insert on deleted begin select raise(abort, 'no room'); end");
  await expect(store.deleted.delete(ID)).rejects.toThrow('no room');
  expect(await places()).toEqual(DELETED);
  rows('drop trigger refuse');
  expect(await store.deleted.delete(ID)).toMatchObject({ ok: true, already: true });
  expect((await store.list({ limit: 5 })).total).toBe(0);
  await store.deleted.restore(ID);
  expect((await store.get(ID))?.score?.overall).toBe(71);
});

test('what is removed from the folder by hand is gone for good after the next start', async () => {
  await store.deleted.delete(ID);
  for (const name of await readdir(join(dataDir, 'deleted'))) await rm(join(dataDir, 'deleted', name));
  expect(await store.deleted.restore(ID)).toMatchObject({ ok: false, code: 'recording-gone' });
  await store.close();
  await open();
  expect([(await store.list({ limit: 5 })).total, await store.deleted.list()]).toEqual([0, []]);
  expect(await store.deleted.restore(ID)).toMatchObject({ ok: false, code: 'no-attempt' });
});

test('an attempt whose recording is gone is not deleted, and says so', async () => {
  await rm(join(dataDir, 'recordings', `${ID}.ndjson`));
  expect(await store.deleted.delete(ID)).toEqual({
    ok: false,
    code: 'recording-gone',
    message: `the recording of attempt ${ID} is no longer in the data folder`,
  });
});

test('a damaged recording is deleted and restored as it is', async () => {
  await writeFile(join(dataDir, 'recordings', `${ID}.ndjson`), 'x\n');
  expect(await store.deleted.delete(ID)).toMatchObject({ ok: true, already: false });
  await store.close();
  await open();
  expect((await store.deleted.list()).map(({ attemptId }) => attemptId)).toEqual([ID]);
  await store.deleted.restore(ID);
  expect(await readFile(join(dataDir, 'recordings', `${ID}.ndjson`), 'utf8')).toBe('x\n');
});

test('another recording of the id among the deleted ones is not written over', async () => {
  await writeFile(join(dataDir, 'deleted', `${ID}.ndjson`), recordingText({ attemptId: ID, samples: 9 }));
  expect(await store.deleted.delete(ID)).toMatchObject({
    ok: false,
    code: 'other-recording-kept',
    message: expect.stringContaining(`move deleted/${ID}.ndjson of the data folder away first`),
  });
  expect((await store.list({ limit: 5 })).total).toBe(1);
  await writeFile(join(dataDir, 'deleted', `${ID}.ndjson`), TEXT);
  expect(await store.deleted.delete(ID)).toMatchObject({ ok: true, already: false });
  expect(await places()).toEqual(DELETED);
});

test('notes that lie in both places are told and both left as they are', async () => {
  await store.close();
  await writeFile(join(dataDir, 'deleted', `${ID}.json`), 'older');
  await open();
  expect(said).toEqual([`notes of attempt ${ID} lie both in notes and in deleted: those in notes are used`]);
  expect(await store.notes.list(ID)).toEqual({ ok: true, notes: [NOTE] });
  expect(await readFile(join(dataDir, 'deleted', `${ID}.json`), 'utf8')).toBe('older');
});
