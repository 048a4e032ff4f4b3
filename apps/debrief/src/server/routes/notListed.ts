// What an attempt that is in no list is answered with: it was deleted, or there never was one.
import type { AttemptStore } from '@stillprop/store';
import { ApiFailure } from '../apiFailure.js';

export async function notListed({ deleted }: Pick<AttemptStore, 'deleted'>, attemptId: string): Promise<ApiFailure> {
  return (await deleted.has(attemptId))
    ? new ApiFailure('ATTEMPT_DELETED', `attempt ${attemptId} was deleted; it can be restored under Debrief, Deleted`)
    : new ApiFailure('ATTEMPT_NOT_FOUND', `there is no attempt ${attemptId}`);
}
