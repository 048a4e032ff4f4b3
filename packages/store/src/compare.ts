// Comparing students in SQL that every dialect speaks: counts and spread, never bare averages.
import {
  COMPARED_FIGURES,
  type Comparable,
  type ComparedFigure,
  type Spread,
  type StudentFigures,
} from '@stillprop/contracts';
import { type Kysely, sql } from 'kysely';
import { liveAttempts } from './liveAttempts.js';
import type { Tables } from './schema.js';

export interface CompareChoice {
  readonly scenarioId: string;
  readonly rubricId: string;
  readonly rubricRevision: number;
  /** Scores of another engine are not compared. */
  readonly engineRevision: string;
}

/** Each scenario with each rubric and revision, most attempts first. */
export async function comparable(db: Kysely<Tables>): Promise<Comparable[]> {
  const rows = await liveAttempts(db)
    .select(['scenarioId', 'rubricId', 'rubricRevision'])
    .select((by) => [by.fn.max('scenarioName').as('scenarioName'), by.fn.countAll().as('attempts')])
    .groupBy(['scenarioId', 'rubricId', 'rubricRevision'])
    .execute();
  return rows
    .map(({ attempts, scenarioName, ...row }) => ({
      ...row,
      scenarioName: String(scenarioName),
      attempts: Number(attempts),
    }))
    .sort((a, b) => b.attempts - a.attempts || (a.scenarioId < b.scenarioId ? -1 : 1));
}

/** One row for each student, by name; null (no name) first. */
export async function compareStudents(db: Kysely<Tables>, choice: CompareChoice): Promise<StudentFigures[]> {
  const counts = await chosen(db, choice)
    .select('student')
    .select((by) => [by.fn.countAll().as('attempts'), by.fn.max('startedAt').as('newest')])
    .groupBy('student')
    .execute();
  const spreads = new Map<ComparedFigure, Map<string | null, Spread>>();
  for (const figure of COMPARED_FIGURES) spreads.set(figure, await spreadOf(db, choice, figure));
  return counts
    .map(({ student, attempts, newest }) => ({
      student,
      attempts: Number(attempts),
      newest: String(newest),
      figures: Object.fromEntries(
        COMPARED_FIGURES.map((figure) => [figure, spreads.get(figure)?.get(student) ?? null]),
      ) as StudentFigures['figures'],
    }))
    .sort((a, b) =>
      a.student === b.student ? 0 : a.student === null ? -1 : b.student === null ? 1 : a.student < b.student ? -1 : 1,
    );
}

function chosen(db: Kysely<Tables>, { scenarioId, rubricId, rubricRevision, engineRevision }: CompareChoice) {
  return liveAttempts(db)
    .where('scenarioId', '=', scenarioId)
    .where('rubricId', '=', rubricId)
    .where('rubricRevision', '=', rubricRevision)
    .where('engineRevision', '=', engineRevision);
}

/** Quartiles as the values that stand at a quarter, a half and three quarters of the way, counted up to the next whole place. */
async function spreadOf(
  db: Kysely<Tables>,
  choice: CompareChoice,
  figure: ComparedFigure,
): Promise<Map<string | null, Spread>> {
  const place = (share: number) =>
    sql<number>`max(case when "place" = cast((${sql.lit(share)} * "count" + 3) / 4 as integer) then "value" end)`;
  const rows = await db
    .with('ranked', () =>
      chosen(db, choice)
        .where(figure, 'is not', null)
        .select(['student', sql<number>`${sql.ref(figure)}`.as('value')])
        .select([
          sql<number>`row_number() over (partition by "student" order by ${sql.ref(figure)})`.as('place'),
          sql<number>`count(*) over (partition by "student")`.as('count'),
        ]),
    )
    .selectFrom('ranked')
    .select('student')
    .select([
      sql<number>`max("count")`.as('count'),
      sql<number>`min("value")`.as('lowest'),
      place(1).as('lowerQuartile'),
      place(2).as('median'),
      place(3).as('upperQuartile'),
      sql<number>`max("value")`.as('highest'),
    ])
    .groupBy('student')
    .execute();
  return new Map(
    rows.map(({ student, count, ...rest }) => [
      student,
      {
        count: Number(count),
        lowest: Number(rest.lowest),
        lowerQuartile: Number(rest.lowerQuartile),
        median: Number(rest.median),
        upperQuartile: Number(rest.upperQuartile),
        highest: Number(rest.highest),
      },
    ]),
  );
}
