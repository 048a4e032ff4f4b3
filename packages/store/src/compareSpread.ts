// Spread of figures over chosen attempts, one statement a figure, in SQL that every dialect speaks.
import { COMPARED_FIGURES, type ComparedFigure, type Comparison, type Spread } from '@stillprop/contracts';
import { type Kysely, type SelectQueryBuilder, sql } from 'kysely';
import type { Tables } from './schema.js';

export type Chosen = SelectQueryBuilder<Tables, 'attempt', unknown>;

/**
 * Quartiles as the values that stand at a quarter, a half and three quarters of the way, counted up to the next whole
 * place. Needs columns `place`, `count` and `value`.
 */
export function atQuarter(quarters: 1 | 2 | 3) {
  return sql<number | null>`max(case when "place" = (${sql.lit(quarters)} * "count" + 3) / 4 then "value" end)`;
}

/** By student; those in whose attempts it was never measured are missing. */
export async function spreadByStudent(
  db: Kysely<Tables>,
  chosen: Chosen,
  figure: ComparedFigure,
): Promise<Map<string | null, Spread>> {
  const rows = await db
    .with('ranked', () =>
      chosen
        .where(figure, 'is not', null)
        .select(['student', sql<number>`${sql.ref(figure)}`.as('value')])
        .select([
          sql<number>`row_number() over (partition by "student" order by ${sql.ref(figure)})`.as('place'),
          sql<number>`count(*) over (partition by "student")`.as('count'),
        ]),
    )
    .selectFrom('ranked')
    .select('student')
    .select(SPREAD)
    .groupBy('student')
    .execute();
  return new Map(rows.map(({ student, ...spread }) => [student, asSpread(spread)]));
}

/** Counts and ends of every figure over all chosen attempts together. */
export async function rangesOf(chosen: Chosen): Promise<Comparison['ranges']> {
  const row = await chosen
    .select(
      COMPARED_FIGURES.flatMap((figure, i) => [
        sql<number>`count(${sql.ref(figure)})`.as(alias('count', i)),
        sql<number | null>`min(${sql.ref(figure)})`.as(alias('lowest', i)),
        sql<number | null>`max(${sql.ref(figure)})`.as(alias('highest', i)),
      ]),
    )
    .executeTakeFirstOrThrow();
  const of = (name: string) => Number((row as Readonly<Record<string, unknown>>)[name]);
  return Object.fromEntries(
    COMPARED_FIGURES.map((figure, i) => {
      const count = of(alias('count', i));
      const ends = { lowest: of(alias('lowest', i)), highest: of(alias('highest', i)) };
      return [figure, count === 0 ? null : { count, ...ends }];
    }),
  ) as Comparison['ranges'];
}

/** One word in small letters: capitals and digits do not come back from every database as they were. */
const alias = (what: string, index: number) => `${what}${String.fromCharCode(97 + index)}`;

const SPREAD = [
  sql<number | null>`max("count")`.as('count'),
  sql<number | null>`min("value")`.as('lowest'),
  atQuarter(1).as('lowerQuartile'),
  atQuarter(2).as('median'),
  atQuarter(3).as('upperQuartile'),
  sql<number | null>`max("value")`.as('highest'),
] as const;

function asSpread(row: Record<keyof Spread, number | null>): Spread {
  return {
    count: Number(row.count),
    lowest: Number(row.lowest),
    lowerQuartile: Number(row.lowerQuartile),
    median: Number(row.median),
    upperQuartile: Number(row.upperQuartile),
    highest: Number(row.highest),
  };
}
