// GET /api/attempts…: the list, and of one attempt its detail, trace, score and recording.
import {
  ApiError,
  ATTEMPT_FILTER,
  AttemptDetail,
  AttemptId,
  AttemptList,
  type AttemptSummary,
  DEBRIEF_TRACE_POINTS,
  type Recording,
  Score,
  Trace,
} from '@stillprop/contracts';
import { type AttemptStore, parseCursor, type StoredAttempt } from '@stillprop/store';
import { z } from 'zod';
import { ApiFailure } from '../apiFailure.js';
import type { Scoring, ScoringDesk } from '../scoringDesk.js';
import type { Routes } from '../zodTypes.js';
import { notListed } from './notListed.js';
import { NDJSON } from './recordings.js';
import { wholeNumber } from './wholeNumber.js';

const params = z.strictObject({ id: AttemptId });
const ListQuery = z.strictObject({
  limit: wholeNumber(1, 200).default(50),
  before: z
    .string()
    .refine((text) => parseCursor(text) !== undefined, 'must be the "next" of an earlier page')
    .optional(),
  student: z.string().optional(),
  scenarioId: z.string().optional(),
  rubricId: z.string().optional(),
  rubricRevision: wholeNumber(1, 1_000_000).optional(),
  ...ATTEMPT_FILTER,
});
const TraceQuery = z.strictObject({ maxPoints: wholeNumber(2, DEBRIEF_TRACE_POINTS).default(2000) });

export interface AttemptDeps {
  readonly store: AttemptStore;
  readonly desk: ScoringDesk;
  readonly scoring: Scoring;
}

export const attemptRoutes: Routes<AttemptDeps> = async (app, { store, desk, scoring }) => {
  app.get(
    '/attempts',
    { schema: { querystring: ListQuery, response: { 200: AttemptList, '4xx': ApiError } } },
    async ({ query }) => {
      const { attempts, total, next } = await store.list(query);
      return { attempts: [...attempts], total, next };
    },
  );

  app.get(
    '/attempts/:id',
    { schema: { params, response: { 200: AttemptDetail, '4xx': ApiError } } },
    async ({ params: { id } }) => {
      const { row, score } = await scoredAttempt(id);
      const recording = await recordingOf(id);
      const { header, events, end } = recording;
      return {
        summary: row,
        header,
        events: [...events],
        end,
        score,
        returnMoment: scoring.returnMoment(recording),
      };
    },
  );

  app.get(
    '/attempts/:id/score',
    { schema: { params, response: { 200: Score, '4xx': ApiError } } },
    async ({ params: { id } }) => (await scoredAttempt(id)).score,
  );

  app.get(
    '/attempts/:id/trace',
    { schema: { params, querystring: TraceQuery, response: { 200: Trace, '4xx': ApiError } } },
    async ({ params: { id }, query }) => {
      await knownAttempt(id, store.get(id));
      const recording = await recordingOf(id);
      try {
        return scoring.traceOf(recording, query.maxPoints);
      } catch (error) {
        throw new ApiFailure('NOT_SCORED', `attempt ${id} cannot be drawn: ${(error as Error).message}`);
      }
    },
  );

  app.get('/attempts/:id/recording', { schema: { params, produces: [NDJSON] } }, async ({ params: { id } }, reply) => {
    await knownAttempt(id, store.get(id));
    const bytes = await store.recordingBytes(id);
    if (bytes === undefined) throw gone(id);
    return reply.type(NDJSON).header('content-disposition', `attachment; filename="${id}.ndjson"`).send(bytes);
  });

  async function knownAttempt(id: string, found: Promise<StoredAttempt | undefined>): Promise<StoredAttempt> {
    const attempt = await found;
    if (attempt === undefined) throw await notListed(store, id);
    return attempt;
  }

  async function scoredAttempt(id: string): Promise<{ row: AttemptSummary; score: Score }> {
    const { row, score } = await knownAttempt(id, desk.scored(id));
    if (score === null || row.engineRevision !== scoring.ENGINE_REVISION) {
      await recordingOf(id); // says so if it is gone or damaged
      throw new ApiFailure('NOT_SCORED', row.problem ?? `attempt ${id} has not been scored yet; ask again`);
    }
    return { row, score };
  }

  async function recordingOf(id: string): Promise<Recording> {
    const kept = await store.recording(id);
    if (kept === undefined) throw gone(id);
    if ('problem' in kept)
      throw new ApiFailure('NOT_SCORED', `the recording of attempt ${id} is damaged: ${kept.problem}`);
    return kept.recording;
  }
};

function gone(id: string): ApiFailure {
  return new ApiFailure('RECORDING_GONE', `the recording of attempt ${id} is no longer in the data folder`);
}
