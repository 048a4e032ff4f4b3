// Narrows a query on attempts by outcome, time, failure height and name, in SQL that every dialect speaks.
import type { AttemptFilter } from '@stillprop/contracts';
import { type Expression, type SelectQueryBuilder, sql } from 'kysely';
import type { Tables } from './schema.js';

type Attempts<Output> = SelectQueryBuilder<Tables, 'attempt', Output>;

/** Heights are shown to the foot: what reads 900 ft belongs to 900. */
const HALF_FT = 0.5;

export function narrowed<Output>(attempts: Attempts<Output>, filter: AttemptFilter): Attempts<Output> {
  const { outcome, startedFrom, startedBefore, heightFromFt, heightToFt } = filter;
  const name = filter.name?.trim() ?? '';
  let some = attempts;
  if (outcome !== undefined) some = some.where('outcome', 'in', outcome);
  if (startedFrom !== undefined) some = some.where('startedAt', '>=', inIndex(startedFrom));
  if (startedBefore !== undefined) some = some.where('startedAt', '<', inIndex(startedBefore));
  if (heightFromFt !== undefined) some = some.where('failureHeightFt', '>=', heightFromFt - HALF_FT);
  if (heightToFt !== undefined) some = some.where('failureHeightFt', '<', heightToFt + HALF_FT);
  if (name !== '') some = some.where(holds(name));
  return some;
}

const inIndex = (instant: string) => new Date(instant).toISOString();

/** SQLite's lower() knows A to Z alone: other capitals that were typed, or could have been, are replaced one by one. */
function holds(typed: string): Expression<boolean> {
  const small = typed.toLowerCase();
  let student: Expression<string> = sql<string>`lower(${sql.ref('student')})`;
  for (const letter of new Set(small)) {
    const capital = letter.toUpperCase();
    if (letter > '\u007f' && capital !== letter) student = sql<string>`replace(${student}, ${capital}, ${letter})`;
  }
  const pattern = `%${small.replace(/[\\%_]/g, '\\$&')}%`;
  return sql<boolean>`${student} like ${pattern} escape '\\'`;
}
