// DELETE /api/attempts/:id, and /api/deleted: attempts that were deleted, and bringing them back.
import { ApiError, AttemptDeleted, AttemptId, AttemptRestored, DeletedList } from '@stillprop/contracts';
import type { AttemptStore, DeleteRefusal } from '@stillprop/store';
import { z } from 'zod';
import { type ApiCode, ApiFailure } from '../apiFailure.js';
import type { ScoringDesk } from '../scoringDesk.js';
import type { Routes } from '../zodTypes.js';

const params = z.strictObject({ id: AttemptId });

const CODES: Record<DeleteRefusal, ApiCode> = {
  'no-attempt': 'ATTEMPT_NOT_FOUND',
  'recording-gone': 'RECORDING_GONE',
  'other-recording-kept': 'RECORDING_CONFLICT',
};

export interface DeletedDeps {
  readonly store: AttemptStore;
  readonly desk: ScoringDesk;
}

export const deletedRoutes: Routes<DeletedDeps> = async (app, { store: { deleted }, desk }) => {
  app.delete(
    '/attempts/:id',
    { schema: { params, response: { 200: AttemptDeleted, '4xx': ApiError, '5xx': ApiError } } },
    async ({ params: { id } }) => {
      const result = await deleted.delete(id);
      if (!result.ok) throw new ApiFailure(CODES[result.code], result.message);
      const { attemptId, deletedAt } = result;
      return { attemptId, deletedAt };
    },
  );

  app.get('/deleted', { schema: { response: { 200: DeletedList } } }, async () => ({
    deleted: [...(await deleted.list())],
  }));

  app.post(
    '/deleted/:id/restore',
    { schema: { params, response: { 200: AttemptRestored, '4xx': ApiError, '5xx': ApiError } } },
    async ({ params: { id } }) => {
      const result = await deleted.restore(id);
      if (!result.ok) throw new ApiFailure(CODES[result.code], result.message);
      desk.add(result.attemptId); // the engine may be another one by now
      return { attemptId: result.attemptId };
    },
  );
};
