// One student's figures over time: equal steps of attempts with median and range, and the first and last few as they are.
import {
  COMPARED_FIGURES,
  type ComparedFigure,
  type FigureProgress,
  PROGRESS_STEPS,
  type Progress,
  TREND_ATTEMPTS,
} from '@stillprop/contracts';
import { type Kysely, sql } from 'kysely';
import { narrowed } from './attemptFilter.js';
import { alike, type CompareChoice } from './compare.js';
import { atQuarter, type Chosen } from './compareSpread.js';
import type { Tables } from './schema.js';

export async function progressOf(db: Kysely<Tables>, choice: CompareChoice, student: string): Promise<Progress> {
  const chosen = narrowed(alike(db, choice), choice).where('student', '=', student);
  const { attempts } = await chosen.select((by) => by.fn.countAll().as('attempts')).executeTakeFirstOrThrow();
  const figures = {} as Progress['figures'];
  for (const figure of COMPARED_FIGURES) figures[figure] = await progressIn(db, chosen, figure);
  return { attempts: Number(attempts), figures };
}

async function progressIn(db: Kysely<Tables>, chosen: Chosen, figure: ComparedFigure): Promise<FigureProgress> {
  const value = sql<number | null>`${sql.ref(figure)}`;
  const oldestFirst = sql`"started_at", "attempt_id"`;
  const steps = await db
    .with('numbered', () =>
      chosen.select(['startedAt', value.as('value')]).select([
        sql<number>`row_number() over (order by ${oldestFirst})`.as('number'),
        // With fewer attempts than steps, each attempt is a step of its own.
        sql<number>`ntile(${sql.lit(PROGRESS_STEPS)}) over (order by ${oldestFirst})`.as('step'),
      ]),
    )
    .with('ranked', (all) =>
      all
        .selectFrom('numbered')
        .select(['startedAt', 'number', 'step', 'value'])
        .select([
          sql<number>`row_number() over (partition by "step" order by case when "value" is null then 1 else 0 end, "value")`.as(
            'place',
          ),
          sql<number>`count("value") over (partition by "step")`.as('count'),
        ]),
    )
    .selectFrom('ranked')
    .select([
      'step',
      sql<number>`min("number")`.as('from'),
      sql<number>`max("number")`.as('to'),
      sql<string>`min("started_at")`.as('startedAt'),
      sql<number | null>`min("value")`.as('lowest'),
      atQuarter(2).as('median'),
      sql<number | null>`max("value")`.as('highest'),
    ])
    .groupBy('step')
    .orderBy('step')
    .execute();
  const known = chosen.where(figure, 'is not', null);
  const { measured } = await known.select((by) => by.fn.countAll().as('measured')).executeTakeFirstOrThrow();
  const few = async (way: 'asc' | 'desc') => {
    const rows = await known
      .select(value.as('value'))
      .orderBy('startedAt', way)
      .orderBy('attemptId', way)
      .limit(TREND_ATTEMPTS)
      .execute();
    return rows.map((row) => Number(row.value));
  };
  return {
    steps: steps.map(({ step: _, from, to, ...rest }) => ({ ...rest, from: Number(from), to: Number(to) })),
    measured: Number(measured),
    first: await few('asc'),
    last: (await few('desc')).reverse(),
  };
}
