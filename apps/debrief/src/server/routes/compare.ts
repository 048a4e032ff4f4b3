// GET /api/compare…: what can be compared, the students who flew it by counts and spread, and one student over time.
import { ApiError, ATTEMPT_FILTER, Comparable, Comparison, Progress, STUDENT_ORDERS } from '@stillprop/contracts';
import type { AttemptStore } from '@stillprop/store';
import { z } from 'zod';
import type { Routes } from '../zodTypes.js';
import { wholeNumber } from './wholeNumber.js';

const CHOICE = {
  scenarioId: z.string(),
  rubricId: z.string(),
  rubricRevision: wholeNumber(1, 1_000_000),
  ...ATTEMPT_FILTER,
};
const StudentsQuery = z.strictObject({
  ...CHOICE,
  order: z.enum(STUDENT_ORDERS).default('student'),
  downwards: z
    .enum(['true', 'false'])
    .default('false')
    .transform((word) => word === 'true'),
  /** Students in a page; the first page is 1. */
  limit: wholeNumber(1, 100).default(25),
  page: wholeNumber(1, 1_000_000).default(1),
});
const ProgressQuery = z.strictObject({ ...CHOICE, student: z.string() });

export interface CompareDeps {
  readonly store: AttemptStore;
  /** Scores of this engine are compared, and no others. */
  readonly engineRevision: string;
}

export const compareRoutes: Routes<CompareDeps> = async (app, { store, engineRevision }) => {
  app.get('/compare', { schema: { response: { 200: z.array(Comparable) } } }, async () => [
    ...(await store.comparable()),
  ]);

  app.get(
    '/compare/students',
    { schema: { querystring: StudentsQuery, response: { 200: Comparison, '4xx': ApiError } } },
    async ({ query: { page, ...query } }) =>
      store.compare({ ...query, engineRevision, offset: (page - 1) * query.limit }),
  );

  app.get(
    '/compare/progress',
    { schema: { querystring: ProgressQuery, response: { 200: Progress, '4xx': ApiError } } },
    async ({ query: { student, ...choice } }) => store.progress({ ...choice, engineRevision }, student),
  );
};
