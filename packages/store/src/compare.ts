// Comparing students in SQL that every dialect speaks: counts and spread, never bare averages, a page of students at a time.
import {
  type AttemptFilter,
  COMPARED_FIGURES,
  type Comparable,
  type ComparedFigure,
  type Comparison,
  FlownOutcome,
  type Spread,
  type StudentFigures,
  type StudentOrder,
} from '@stillprop/contracts';
import { type Kysely, sql } from 'kysely';
import { narrowed } from './attemptFilter.js';
import { atQuarter, type Chosen, rangesOf, spreadByStudent } from './compareSpread.js';
import { liveAttempts } from './liveAttempts.js';
import type { Tables } from './schema.js';

export interface CompareChoice extends AttemptFilter {
  readonly scenarioId: string;
  readonly rubricId: string;
  readonly rubricRevision: number;
  /** Scores of another engine are not compared. */
  readonly engineRevision: string;
}

export interface CompareQuery extends CompareChoice {
  readonly order: StudentOrder;
  readonly downwards: boolean;
  /** Students in a page, and how many stand before it. */
  readonly limit: number;
  readonly offset: number;
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

export async function compareStudents(db: Kysely<Tables>, query: CompareQuery): Promise<Comparison> {
  const chosen = narrowed(alike(db, query), query);
  const page = await studentsInOrder(db, chosen, query);
  const names = page.flatMap(({ student }) => (student === null ? [] : [student]));
  const onPage = chosen.where((by) =>
    by.or([
      ...(names.length > 0 ? [by('student', 'in', names)] : []),
      ...(names.length < page.length ? [by('student', 'is', null)] : []),
    ]),
  );
  const spreads = new Map<ComparedFigure, Map<string | null, Spread>>();
  if (page.length > 0)
    for (const figure of COMPARED_FIGURES) spreads.set(figure, await spreadByStudent(db, onPage, figure));
  const figuresOf = (student: string | null) =>
    Object.fromEntries(
      COMPARED_FIGURES.map((figure) => [figure, spreads.get(figure)?.get(student) ?? null]),
    ) as StudentFigures['figures'];
  return {
    ...(await counted(db, query)),
    ranges: await rangesOf(chosen),
    outcomes: await outcomesOf(narrowed(alike(db, query), { ...query, outcome: undefined })),
    students: page.map((row) => ({ ...row, figures: figuresOf(row.student) })),
  };
}

/** Scored by one rubric and engine. */
export function alike(db: Kysely<Tables>, choice: CompareChoice): Chosen {
  return liveAttempts(db)
    .where('scenarioId', '=', choice.scenarioId)
    .where('rubricId', '=', choice.rubricId)
    .where('rubricRevision', '=', choice.rubricRevision)
    .where('engineRevision', '=', choice.engineRevision);
}

/** A page of students; by the median of a figure, those without it stand last whichever way. No name is before all names. */
async function studentsInOrder(
  db: Kysely<Tables>,
  chosen: Chosen,
  { order, downwards, limit, offset }: CompareQuery,
): Promise<Omit<StudentFigures, 'figures'>[]> {
  const figure = COMPARED_FIGURES.find((each) => each === order);
  const value = figure === undefined ? sql<number | null>`null` : sql<number | null>`${sql.ref(figure)}`;
  const way = downwards ? sql`desc` : sql`asc`;
  const byName = sql`lower(coalesce("student", ''))`;
  const key = order === 'attempts' ? sql`"attempts"` : order === 'newest' ? sql`"newest"` : sql`"median"`;
  const rows = await db
    .with('ranked', () =>
      chosen
        .select(['student', 'startedAt', value.as('value')])
        .$if(figure !== undefined, (some) =>
          some.select([
            sql<number>`row_number() over (partition by "student" order by case when ${value} is null then 1 else 0 end, ${value})`.as(
              'place',
            ),
            sql<number>`count(${value}) over (partition by "student")`.as('count'),
          ]),
        ),
    )
    .with('grouped', (all) =>
      all
        .selectFrom('ranked')
        .select(['student', sql<number>`count(*)`.as('attempts'), sql<string>`max("started_at")`.as('newest')])
        .$if(figure !== undefined, (some) => some.select(atQuarter(2).as('median')))
        .groupBy('student'),
    )
    .selectFrom('grouped')
    .select(['student', 'attempts', 'newest'])
    .$if(figure !== undefined, (some) => some.orderBy(sql`case when "median" is null then 1 else 0 end`))
    .$if(order !== 'student', (some) => some.orderBy(sql`${key} ${way}`))
    .orderBy(order === 'student' ? sql`${byName} ${way}` : byName)
    .orderBy(order === 'student' ? sql`coalesce("student", '') ${way}` : sql`coalesce("student", '')`)
    .limit(limit)
    .offset(offset)
    .execute();
  return rows.map(({ student, attempts, newest }) => ({ student, attempts: Number(attempts), newest }));
}

async function counted(db: Kysely<Tables>, query: CompareQuery) {
  const { flown } = await liveAttempts(db)
    .where('scenarioId', '=', query.scenarioId)
    .select((by) => by.fn.countAll().as('flown'))
    .executeTakeFirstOrThrow();
  const { outOf } = await alike(db, query)
    .select((by) => by.fn.countAll().as('outOf'))
    .executeTakeFirstOrThrow();
  const { attempts, students } = await db
    .selectFrom(
      narrowed(alike(db, query), query)
        .select(['student', sql<number>`count(*)`.as('attempts')])
        .groupBy('student')
        .as('each'),
    )
    .select([sql<number | null>`sum("attempts")`.as('attempts'), sql<number>`count(*)`.as('students')])
    .executeTakeFirstOrThrow();
  return {
    leftOut: Number(flown) - Number(outOf),
    outOf: Number(outOf),
    attempts: Number(attempts ?? 0),
    total: Number(students),
  };
}

async function outcomesOf(chosen: Chosen): Promise<Comparison['outcomes']> {
  const rows = await chosen
    .where('outcome', 'is not', null)
    .select(['outcome', sql<number>`count(*)`.as('attempts')])
    .groupBy('outcome')
    .execute();
  const at = (outcome: FlownOutcome) => FlownOutcome.options.indexOf(outcome);
  return rows
    .map(({ outcome, attempts }) => ({ outcome: FlownOutcome.parse(outcome), attempts: Number(attempts) }))
    .sort((a, b) => b.attempts - a.attempts || at(a.outcome) - at(b.outcome));
}
