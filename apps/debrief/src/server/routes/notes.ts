// /api/attempts/:id/notes: what people wrote to an attempt: listed, added, changed, taken away.
import { ApiError, AttemptId, Note, NoteEdit, NoteId, NoteList } from '@stillprop/contracts';
import type { AttemptStore, NoteRefusal } from '@stillprop/store';
import { z } from 'zod';
import { type ApiCode, ApiFailure } from '../apiFailure.js';
import type { Routes } from '../zodTypes.js';
import { notListed } from './notListed.js';

const params = z.strictObject({ id: AttemptId });
const noteParams = z.strictObject({ id: AttemptId, noteId: NoteId });

const CODES: Record<Exclude<NoteRefusal, 'no-attempt'>, ApiCode> = {
  'no-note': 'NOTE_NOT_FOUND',
  'other-note-kept': 'NOTE_CONFLICT',
  full: 'NOTES_FULL',
  damaged: 'NOTES_DAMAGED',
};

export const noteRoutes: Routes<{ readonly store: AttemptStore }> = async (app, { store }) => {
  const { notes } = store;

  app.get(
    '/attempts/:id/notes',
    { schema: { params, response: { 200: NoteList, '4xx': ApiError } } },
    async ({ params: { id } }) => ({ notes: [...(await kept(id, notes.list(id))).notes] }),
  );

  app.post(
    '/attempts/:id/notes',
    { schema: { params, body: Note, response: { 200: Note, 201: Note, '4xx': ApiError, '5xx': ApiError } } },
    async ({ params: { id }, body }, reply) => {
      const { note, already } = await kept(id, notes.add(id, body));
      return reply.code(already ? 200 : 201).send(note);
    },
  );

  app.patch(
    '/attempts/:id/notes/:noteId',
    { schema: { params: noteParams, body: NoteEdit, response: { 200: Note, '4xx': ApiError, '5xx': ApiError } } },
    async ({ params: { id, noteId }, body }) => (await kept(id, notes.edit(id, noteId, body.text))).note,
  );

  app.delete(
    '/attempts/:id/notes/:noteId',
    { schema: { params: noteParams, response: { 200: Note, '4xx': ApiError, '5xx': ApiError } } },
    async ({ params: { id, noteId } }) => (await kept(id, notes.remove(id, noteId))).note,
  );

  async function kept<T extends { readonly ok: true }>(
    id: string,
    asked: Promise<T | { readonly ok: false; readonly code: NoteRefusal; readonly message: string }>,
  ): Promise<T> {
    const result = await asked;
    if (result.ok) return result;
    if (result.code === 'no-attempt') throw await notListed(store, id);
    throw new ApiFailure(CODES[result.code], result.message);
  }
};
