// Notes over HTTP: written once each, changed, taken away; what is not right is refused in one sentence.
import { randomUUID } from 'node:crypto';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Note, NoteList } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { recordingText, testApp } from '../attempt.fixture.js';

const ID = 'c9e1d2b3-6a5f-4e8d-8c7b-9a0f1e2d3c4b';
const URL_OF_NOTES = `/api/attempts/${ID}/notes`;
let own: Awaited<ReturnType<typeof testApp>>;
beforeEach(async () => {
  own = await testApp();
  await own.send(recordingText({ attemptId: ID }));
});
afterEach(() => own.close());

const noteFor = (change: Partial<Note> = {}): Note => ({
  id: randomUUID(),
  atS: 2.4,
  author: 'instructor',
  name: 'Mo Teal',
  text: 'Look at the speed before the bank.',
  writtenAt: '2026-03-01T10:12:00Z',
  ...change,
});
const ask = (method: 'GET' | 'POST' | 'PATCH' | 'DELETE', url: string, payload?: object, headers = {}) =>
  own.app.inject({ method, url, headers, ...(payload === undefined ? {} : { payload }) });
const add = (note: object) => ask('POST', URL_OF_NOTES, note);
const notes = async () => NoteList.parse((await ask('GET', URL_OF_NOTES)).json()).notes;

test('a note is written, changed and taken away', async () => {
  expect(await notes()).toEqual([]);
  const [whole, note] = [noteFor({ atS: null, author: 'pilot', name: null }), noteFor()];
  const written = await add({ ...note, text: `  ${note.text}\n` });
  expect([written.statusCode, written.json()]).toEqual([201, note]);
  expect((await add(whole)).statusCode).toBe(201);
  expect(await notes()).toEqual([whole, note]);
  const changed = await ask('PATCH', `${URL_OF_NOTES}/${note.id}`, { text: ' Shorter. ' });
  expect([changed.statusCode, changed.json()]).toEqual([200, { ...note, text: 'Shorter.' }]);
  const taken = await ask('DELETE', `${URL_OF_NOTES}/${whole.id}`);
  expect([taken.statusCode, taken.json()]).toEqual([200, whole]);
  expect(await notes()).toEqual([{ ...note, text: 'Shorter.' }]);
});

test('a note sent twice is there once; another under its id is refused', async () => {
  const note = noteFor();
  expect([(await add(note)).statusCode, (await add(note)).statusCode]).toEqual([201, 200]);
  const other = await add({ ...note, atS: 3 });
  expect([other.statusCode, other.json()]).toEqual([
    409,
    {
      code: 'NOTE_CONFLICT',
      message: `note ${note.id} is kept already with other contents, and those stay: a new note must have a new id`,
    },
  ]);
  expect(await notes()).toEqual([note]);
});

test.each([
  [{ text: ' ' }, 'text must not be empty, got " "'],
  [{ text: 'x'.repeat(2001) }, `text must be at most 2000 characters, got "${'x'.repeat(56)}...`],
  [{ id: 'mine' }, 'id must be a UUID, got "mine"'],
  [{ author: 'me' }, 'author must be "pilot" or "instructor", got "me"'],
  [{ atS: 'now' }, 'atS must be a number, got "now"'],
  [{ seen: true }, 'seen is not a field that the body has'],
])('a note with %j is refused', async (change, message) => {
  const answer = await add({ ...noteFor(), ...change });
  expect([answer.statusCode, answer.json()]).toEqual([400, { code: 'BAD_REQUEST', message }]);
  expect(await notes()).toEqual([]);
});

test('notes of an attempt, or a note, that is not there are not found', async () => {
  const other = randomUUID();
  for (const answer of [
    await ask('GET', `/api/attempts/${other}/notes`),
    await ask('POST', `/api/attempts/${other}/notes`, noteFor()),
  ]) {
    const message = `there is no attempt ${other}`;
    expect([answer.statusCode, answer.json()]).toEqual([404, { code: 'ATTEMPT_NOT_FOUND', message }]);
  }
  for (const answer of [
    await ask('PATCH', `${URL_OF_NOTES}/${other}`, { text: 'x' }),
    await ask('DELETE', `${URL_OF_NOTES}/${other}`),
  ]) {
    const message = `there is no note ${other}`;
    expect([answer.statusCode, answer.json()]).toEqual([404, { code: 'NOTE_NOT_FOUND', message }]);
  }
});

test('a damaged file of notes is told; the attempt itself is there as before', async () => {
  await writeFile(join(own.dataDir, 'notes', `${ID}.json`), '{"format":');
  for (const answer of [await ask('GET', URL_OF_NOTES), await add(noteFor())]) {
    expect([answer.statusCode, answer.json().code]).toEqual([422, 'NOTES_DAMAGED']);
    expect(answer.json().message).toMatch(
      new RegExp(`^the notes of attempt ${ID} cannot be read: in notes/${ID}.json`),
    );
  }
  expect((await ask('GET', `/api/attempts/${ID}`)).statusCode).toBe(200);
});

test('a page elsewhere can neither write nor take away a note', async () => {
  const note = noteFor();
  await add(note);
  const elsewhere = { host: 'localhost:80', origin: 'http://example.org' };
  for (const answer of [
    await ask('POST', URL_OF_NOTES, noteFor(), elsewhere),
    await ask('PATCH', `${URL_OF_NOTES}/${note.id}`, { text: 'x' }, elsewhere),
    await ask('DELETE', `${URL_OF_NOTES}/${note.id}`, undefined, elsewhere),
  ]) {
    expect([answer.statusCode, answer.json().code]).toEqual([403, 'FORBIDDEN_ORIGIN']);
  }
  expect(await notes()).toEqual([note]);
});

test('markup in a note comes back as the text it is, in JSON', async () => {
  const note = noteFor({ text: '<img src=x onerror=alert(1)>' });
  await add(note);
  const answer = await ask('GET', URL_OF_NOTES);
  expect(answer.headers['content-type']).toContain('application/json');
  expect(answer.headers['x-content-type-options']).toBe('nosniff');
  expect(answer.json().notes[0].text).toBe(note.text);
});

test('the scores as JSON carry the notes of each attempt; where they cannot be read, null', async () => {
  const [other, note] = [randomUUID(), noteFor()];
  await own.send(recordingText({ attemptId: other }));
  await add(note);
  const exported = async () => {
    const rows: { attemptId: string; notes: unknown }[] = (await ask('GET', '/api/export/scores.json')).json();
    return Object.fromEntries(rows.map((row) => [row.attemptId, row.notes]));
  };
  expect(await exported()).toEqual({ [ID]: [note], [other]: [] });
  await writeFile(join(own.dataDir, 'notes', `${other}.json`), 'x');
  expect(await exported()).toEqual({ [ID]: [note], [other]: null });
});
