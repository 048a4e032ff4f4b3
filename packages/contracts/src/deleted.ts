// Deleted attempts, as the debrief server tells of them.
import { z } from 'zod';
import { AttemptSummary } from './api.js';

/** An attempt that was deleted: its files are kept, and it can be restored. */
export const DeletedAttempt = z.strictObject({
  ...AttemptSummary.shape,
  /** ISO 8601 in UTC. */
  deletedAt: z.string(),
});
export type DeletedAttempt = z.infer<typeof DeletedAttempt>;

/** Deleted attempts, those deleted last first. */
export const DeletedList = z.strictObject({ deleted: z.array(DeletedAttempt) });
export type DeletedList = z.infer<typeof DeletedList>;

/** Answer to the deletion of an attempt. */
export const AttemptDeleted = z.strictObject({ attemptId: z.string(), deletedAt: z.string() });
export type AttemptDeleted = z.infer<typeof AttemptDeleted>;

/** Answer to the restoring of an attempt. */
export const AttemptRestored = z.strictObject({ attemptId: z.string() });
export type AttemptRestored = z.infer<typeof AttemptRestored>;
