// The queries on the index of attempts. Portable SQL only: no dialect is named here.
import type { AttemptSummary, DeletedAttempt, Recording, Score } from '@stillprop/contracts';
import type { Kysely, Selectable } from 'kysely';
import { narrowed } from './attemptFilter.js';
import type { AttemptQuery, StoredAttempt } from './attemptStore.js';
import { parseCursor } from './cursor.js';
import { liveAttempts, markDeleted } from './liveAttempts.js';
import { isComplete } from './recordingBytes.js';
import type { AttemptTable, Tables } from './schema.js';

type Row = Selectable<AttemptTable>;

const LISTED = [
  'attemptId',
  'startedAt',
  'station',
  'student',
  'scenarioId',
  'scenarioRevision',
  'scenarioName',
  'aircraftName',
  'runwayName',
  'rubricId',
  'rubricRevision',
  'complete',
  'samples',
  'sha256',
  'engineRevision',
  'failureHeightFt',
  'outcome',
  'overall',
  'delayScore',
  'bankScore',
  'airspeedScore',
  'touchdownScore',
  'delayS',
  'bankDeg',
  'airspeedKt',
  'touchdownFt',
  'costFt',
  'problem',
] as const satisfies readonly (keyof AttemptTable)[];

const UNSCORED = {
  engineRevision: null,
  failureHeightFt: null,
  outcome: null,
  overall: null,
  delayScore: null,
  bankScore: null,
  airspeedScore: null,
  touchdownScore: null,
  delayS: null,
  bankDeg: null,
  airspeedKt: null,
  touchdownFt: null,
  costFt: null,
  score: null,
  problem: null,
} satisfies Partial<AttemptTable>;

/** Adds a recording, or puts it in the place of an earlier one of its id; either way it is not scored yet. */
export async function putAttempt(
  db: Kysely<Tables>,
  recording: Recording,
  bytes: { readonly sha256: string; readonly sizeBytes: number },
): Promise<void> {
  const { header } = recording;
  const row: AttemptTable = {
    attemptId: header.attemptId.toLowerCase(),
    startedAt: new Date(header.startedAt).toISOString(),
    station: header.station,
    student: header.student,
    scenarioId: header.scenario.id,
    scenarioRevision: header.scenario.revision,
    scenarioName: header.scenario.name,
    aircraftName: header.aircraft.name,
    runwayName: header.runway.name,
    rubricId: header.rubric.id,
    rubricRevision: header.rubric.revision,
    complete: isComplete(recording) ? 1 : 0,
    samples: recording.samples.length,
    ...bytes,
    ...UNSCORED,
  };
  const { attemptId: _, ...rest } = row;
  await db
    .insertInto('attempt')
    .values(row)
    .onConflict((conflict) => conflict.column('attemptId').doUpdateSet(rest))
    .execute();
}

/** One page, newest first, by key: a page deep down costs as little as the first. */
export async function listAttempts(db: Kysely<Tables>, query: AttemptQuery) {
  let wanted = narrowed(liveAttempts(db), query);
  if (query.student !== undefined) wanted = wanted.where('student', '=', query.student);
  if (query.scenarioId !== undefined) wanted = wanted.where('scenarioId', '=', query.scenarioId);
  if (query.rubricId !== undefined) wanted = wanted.where('rubricId', '=', query.rubricId);
  if (query.rubricRevision !== undefined) wanted = wanted.where('rubricRevision', '=', query.rubricRevision);
  if (query.engineRevision !== undefined) wanted = wanted.where('engineRevision', '=', query.engineRevision);
  let page = wanted;
  if (query.before !== undefined) {
    const at = parseCursor(query.before);
    if (at === undefined) throw new RangeError(`before must be the "next" of an earlier page, got "${query.before}"`);
    page = page.where((where) =>
      where(where.refTuple('startedAt', 'attemptId'), '<', where.tuple(at.startedAt, at.attemptId)),
    );
  }
  const rows = await page
    .select(LISTED)
    .orderBy('startedAt', 'desc')
    .orderBy('attemptId', 'desc')
    .limit(query.limit + 1) // one more tells whether there is a next page
    .execute();
  const { total } = await wanted.select((select) => select.fn.countAll().as('total')).executeTakeFirstOrThrow();
  return { rows: rows.slice(0, query.limit).map(listed), more: rows.length > query.limit, total: Number(total) };
}

export async function findAttempt(db: Kysely<Tables>, attemptId: string): Promise<StoredAttempt | undefined> {
  const row = await liveAttempts(db)
    .select([...LISTED, 'score'])
    .where('attemptId', '=', attemptId)
    .executeTakeFirst();
  if (row === undefined) return undefined;
  const { score, ...rest } = row;
  return { row: listed(rest), score: score === null ? null : (JSON.parse(score) as Score) };
}

/** Deleted attempts, those deleted last first. */
export async function listDeleted(db: Kysely<Tables>): Promise<DeletedAttempt[]> {
  const rows = await db
    .selectFrom('attempt')
    .innerJoin('deleted', 'deleted.attemptId', 'attempt.attemptId')
    .select(LISTED.map((column) => `attempt.${column}` as const))
    .select('deletedAt')
    .orderBy('deletedAt', 'desc')
    .orderBy('attempt.attemptId', 'desc')
    .execute();
  return rows.map(({ deletedAt, ...row }) => ({ ...listed(row), deletedAt }));
}

/** Bytes and hash of every attempt in the index, deleted ones too, by id. */
export async function indexedBytes(db: Kysely<Tables>) {
  const rows = await db.selectFrom('attempt').select(['attemptId', 'sizeBytes', 'sha256']).execute();
  return new Map(rows.map(({ attemptId, ...bytes }) => [attemptId, bytes]));
}

/** Hash of an attempt in the index, a deleted one too. */
export async function indexedSha256(db: Kysely<Tables>, attemptId: string): Promise<string | undefined> {
  const row = await db.selectFrom('attempt').select('sha256').where('attemptId', '=', attemptId).executeTakeFirst();
  return row?.sha256;
}

/** Ids that this revision of the engine has neither scored nor found a problem with, newest first. */
export async function unscoredIds(db: Kysely<Tables>, engineRevision: string): Promise<string[]> {
  const rows = await liveAttempts(db)
    .select('attemptId')
    .where((by) => by.or([by('engineRevision', 'is', null), by('engineRevision', '!=', engineRevision)]))
    .orderBy('startedAt', 'desc')
    .execute();
  return rows.map((row) => row.attemptId);
}

/** Writes the score or the problem of the recording with this hash; false when it is no longer that recording. */
export async function putScore(
  db: Kysely<Tables>,
  attemptId: string,
  sha256: string,
  result: Score | { readonly engineRevision: string; readonly problem: string },
): Promise<boolean> {
  const columns =
    'problem' in result
      ? { ...UNSCORED, engineRevision: result.engineRevision, problem: result.problem }
      : {
          engineRevision: result.engineRevision,
          failureHeightFt: result.failure?.heightFt ?? null,
          outcome: result.outcome,
          overall: result.overall,
          delayScore: result.criteria.delay.score,
          bankScore: result.criteria.bank.score,
          airspeedScore: result.criteria.airspeed.score,
          touchdownScore: result.criteria.touchdown.score,
          delayS: result.criteria.delay.measured,
          bankDeg: result.criteria.bank.measured,
          airspeedKt: result.criteria.airspeed.measured,
          touchdownFt: result.criteria.touchdown.measured,
          costFt: result.costs?.totalFt ?? null,
          score: JSON.stringify(result),
          problem: null,
        };
  const { numUpdatedRows } = await db
    .updateTable('attempt')
    .set(columns)
    .where('attemptId', '=', attemptId)
    .where('sha256', '=', sha256)
    .executeTakeFirst();
  return numUpdatedRows > 0n;
}

export async function dropAttempt(db: Kysely<Tables>, attemptId: string): Promise<void> {
  await markDeleted(db, attemptId, null);
  await db.deleteFrom('attempt').where('attemptId', '=', attemptId).execute();
}

function listed(row: Pick<Row, (typeof LISTED)[number]>): AttemptSummary {
  return { ...row, complete: row.complete === 1, outcome: row.outcome as AttemptSummary['outcome'] };
}
