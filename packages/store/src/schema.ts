// Tables of the index and the steps that make them, forward only, in SQL that every dialect of Kysely speaks.
import type { Kysely, Migration } from 'kysely';

/**
 * One attempt. Columns are snake_case in SQL. Truth values are 0 or 1: not every dialect has a boolean.
 * The score columns repeat what `score` (JSON) holds, for sorting and counting; all are null until it is scored.
 */
export interface AttemptTable {
  /** Lower-case UUID. */
  attemptId: string;
  /** ISO 8601 in UTC with milliseconds, so that text order is time order. */
  startedAt: string;
  station: string;
  student: string | null;
  scenarioId: string;
  scenarioRevision: number;
  scenarioName: string;
  aircraftName: string;
  runwayName: string;
  rubricId: string;
  rubricRevision: number;
  complete: number;
  samples: number;
  /** Of the recording's bytes, lower-case hex. */
  sha256: string;
  sizeBytes: number;
  engineRevision: string | null;
  failureHeightFt: number | null;
  outcome: string | null;
  overall: number | null;
  delayScore: number | null;
  bankScore: number | null;
  airspeedScore: number | null;
  touchdownScore: number | null;
  /** What the criteria measured, in their units; touchdown from the aim point, long positive. */
  delayS: number | null;
  bankDeg: number | null;
  airspeedKt: number | null;
  touchdownFt: number | null;
  /** Height that all deviations cost together (ft); null: not known. */
  costFt: number | null;
  score: string | null;
  /** Why it could not be scored by `engineRevision`. */
  problem: string | null;
}

/**
 * Attempts whose recording lies among the deleted ones. A table of its own, and no column of `attempt`: there it would
 * stand behind the long scores, and every list would read through them.
 */
export interface DeletedTable {
  attemptId: string;
  /** ISO 8601 in UTC with milliseconds. */
  deletedAt: string;
}

export interface Tables {
  attempt: AttemptTable;
  deleted: DeletedTable;
}

const createAttempts: Migration = {
  // biome-ignore lint/suspicious/noExplicitAny: a step sees the tables as they were then, which no present type describes
  async up(db: Kysely<any>) {
    await db.schema
      .createTable('attempt')
      .addColumn('attemptId', 'text', (column) => column.primaryKey())
      .addColumn('startedAt', 'text', (column) => column.notNull())
      .addColumn('station', 'text', (column) => column.notNull())
      .addColumn('student', 'text')
      .addColumn('scenarioId', 'text', (column) => column.notNull())
      .addColumn('scenarioRevision', 'integer', (column) => column.notNull())
      .addColumn('scenarioName', 'text', (column) => column.notNull())
      .addColumn('aircraftName', 'text', (column) => column.notNull())
      .addColumn('runwayName', 'text', (column) => column.notNull())
      .addColumn('rubricId', 'text', (column) => column.notNull())
      .addColumn('rubricRevision', 'integer', (column) => column.notNull())
      .addColumn('complete', 'integer', (column) => column.notNull())
      .addColumn('samples', 'integer', (column) => column.notNull())
      .addColumn('sha256', 'text', (column) => column.notNull())
      .addColumn('sizeBytes', 'integer', (column) => column.notNull())
      .addColumn('engineRevision', 'text')
      .addColumn('failureHeightFt', 'double precision')
      .addColumn('outcome', 'text')
      .addColumn('overall', 'double precision')
      .addColumn('delayScore', 'double precision')
      .addColumn('bankScore', 'double precision')
      .addColumn('airspeedScore', 'double precision')
      .addColumn('touchdownScore', 'double precision')
      .addColumn('score', 'text')
      .addColumn('problem', 'text')
      .execute();
    const order = ['startedAt', 'attemptId'];
    await db.schema.createIndex('attemptByTime').on('attempt').columns(order).execute();
    await db.schema
      .createIndex('attemptByStudent')
      .on('attempt')
      .columns(['student', ...order])
      .execute();
    await db.schema
      .createIndex('attemptByScenario')
      .on('attempt')
      .columns(['scenarioId', ...order])
      .execute();
  },
};

/** Measured figures beside the scores, and an index for comparing attempts at one scenario by one rubric. */
const measuredFigures: Migration = {
  // biome-ignore lint/suspicious/noExplicitAny: as above
  async up(db: Kysely<any>) {
    for (const name of ['delayS', 'bankDeg', 'airspeedKt', 'touchdownFt', 'costFt']) {
      await db.schema.alterTable('attempt').addColumn(name, 'double precision').execute();
    }
    await db.schema
      .createIndex('attemptForComparing')
      .on('attempt')
      .columns(['scenarioId', 'rubricId', 'rubricRevision', 'student', 'startedAt', 'attemptId'])
      .execute();
    // They are filled by scoring anew: what is unscored is scored when the server starts.
    await db.updateTable('attempt').set({ engineRevision: null }).execute();
  },
};

const deletedAttempts: Migration = {
  // biome-ignore lint/suspicious/noExplicitAny: as above
  async up(db: Kysely<any>) {
    await db.schema
      .createTable('deleted')
      .addColumn('attemptId', 'text', (column) => column.primaryKey())
      .addColumn('deletedAt', 'text', (column) => column.notNull())
      .execute();
  },
};

/** Every step by name, run in the order of the names. A step that has been released is never changed. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '0001-attempts': createAttempts,
  '0002-measured-figures': measuredFigures,
  '0003-deleted-attempts': deletedAttempts,
};
