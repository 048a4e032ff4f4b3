// GET /api/compare…: what can be compared, and the students who flew it, by counts and spread.
import { ApiError, Comparable, Comparison } from '@stillprop/contracts';
import type { AttemptStore } from '@stillprop/store';
import { z } from 'zod';
import type { Routes } from '../zodTypes.js';

const positive = 'must be a whole number from 1';
const Choice = z.strictObject({
  scenarioId: z.string(),
  rubricId: z.string(),
  rubricRevision: z.coerce.number(positive).int(positive).min(1, positive),
});

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
    { schema: { querystring: Choice, response: { 200: Comparison, '4xx': ApiError } } },
    async ({ query }) => {
      const [students, all] = await Promise.all([store.compare({ ...query, engineRevision }), store.comparable()]);
      const counted = students.reduce((sum, { attempts }) => sum + attempts, 0);
      const flown = all.filter(({ scenarioId }) => scenarioId === query.scenarioId);
      return { leftOut: flown.reduce((sum, { attempts }) => sum + attempts, 0) - counted, students: [...students] };
    },
  );
};
