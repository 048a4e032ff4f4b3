// Deleting attempts and bringing them back, asked of the debrief server.
import { AttemptDeleted, AttemptRestored, DeletedList } from '@stillprop/contracts';
import { ask } from './api.js';

/** Moves it to the deleted ones, from where it can be restored. */
export const deleteAttempt = (attemptId: string) =>
  ask(AttemptDeleted, `/api/attempts/${encodeURIComponent(attemptId)}`, undefined, { method: 'DELETE' });

export const restoreAttempt = (attemptId: string) =>
  ask(AttemptRestored, `/api/deleted/${encodeURIComponent(attemptId)}/restore`, undefined, { method: 'POST' });

export const getDeleted = (signal?: AbortSignal) => ask(DeletedList, '/api/deleted', signal);
