// Which attempts of the index are listed: all but the deleted, which keep their row, and with it their score.
import type { Kysely } from 'kysely';
import type { Tables } from './schema.js';

/** Attempts that are not deleted: what every list, comparison and search begins with. */
export function liveAttempts(db: Kysely<Tables>) {
  return db
    .selectFrom('attempt')
    .where('attempt.attemptId', 'not in', db.selectFrom('deleted').select('deleted.attemptId'));
}

/** Since when each deleted attempt is, by id. */
export async function deletedSince(db: Kysely<Tables>): Promise<Map<string, string>> {
  const rows = await db.selectFrom('deleted').selectAll().execute();
  return new Map(rows.map(({ attemptId, deletedAt }) => [attemptId, deletedAt]));
}

/** @param deletedAt null: it is listed again. */
export async function markDeleted(db: Kysely<Tables>, attemptId: string, deletedAt: string | null): Promise<void> {
  if (deletedAt === null) {
    await db.deleteFrom('deleted').where('attemptId', '=', attemptId).execute();
    return;
  }
  await db
    .insertInto('deleted')
    .values({ attemptId, deletedAt })
    .onConflict((conflict) => conflict.column('attemptId').doUpdateSet({ deletedAt }))
    .execute();
}
