// POST /api/imports: a track log made into a recording, kept and scored like any other.
import { createHash } from 'node:crypto';
import { ApiError, bundleOf, type Catalogue, TrackImportAnswer, TrackImportRequest } from '@stillprop/contracts';
import type { AttemptStore } from '@stillprop/store';
import { importedRecording } from '@stillprop/tracks';
import { afterAnswer } from '../afterAnswer.js';
import { ApiFailure } from '../apiFailure.js';
import type { ScoringDesk } from '../scoringDesk.js';
import type { Routes } from '../zodTypes.js';

/** A log of 64 MB as JSON, whose quotes and line ends take two bytes each. */
const MAX_IMPORT_BYTES = 96 * 1024 * 1024;

export interface ImportDeps {
  readonly store: AttemptStore;
  readonly desk: ScoringDesk;
  readonly catalogue: Catalogue;
}

export const importRoutes: Routes<ImportDeps> = async (app, { store, desk, catalogue }) => {
  app.post(
    '/imports',
    {
      bodyLimit: MAX_IMPORT_BYTES,
      schema: {
        body: TrackImportRequest,
        response: { 200: TrackImportAnswer, 201: TrackImportAnswer, '4xx': ApiError, '5xx': ApiError },
      },
    },
    async ({ body }, reply) => {
      const { scenarioId, ...rest } = body;
      const bundle = bundleOf(catalogue, scenarioId);
      if (!bundle.ok) throw new ApiFailure('SCENARIO_UNKNOWN', bundle.problem.message);
      const made = await importedRecording({ ...rest, bundle: bundle.value });
      if (!made.ok) throw new ApiFailure('IMPORT_REFUSED', made.problem.message);
      const bytes = new TextEncoder().encode(made.value.text);
      const received = await store.receive(bytes, createHash('sha256').update(bytes).digest('hex'));
      if (!received.ok) throw new ApiFailure('IMPORT_REFUSED', received.message);
      const { attemptId, already } = received;
      afterAnswer(reply, () => desk.add(attemptId));
      return reply.code(already ? 200 : 201).send({ attemptId, already, notes: [...made.value.notes] });
    },
  );
};
