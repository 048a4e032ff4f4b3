// POST /api/recordings: takes a recording, answers when it is safe on disk, and has it scored afterwards.
import { ApiError, Receipt } from '@stillprop/contracts';
import type { AttemptStore, ReceiveRefusal } from '@stillprop/store';
import { z } from 'zod';
import { type ApiCode, ApiFailure } from '../apiFailure.js';
import type { ScoringDesk } from '../scoringDesk.js';
import type { Routes } from '../zodTypes.js';

export const NDJSON = 'application/x-ndjson';

const CODES: Record<ReceiveRefusal, ApiCode> = {
  'hash-differs': 'RECORDING_REFUSED',
  'no-recording': 'RECORDING_REFUSED',
  'other-recording-kept': 'RECORDING_CONFLICT',
};

export interface RecordingDeps {
  readonly store: AttemptStore;
  readonly desk: ScoringDesk;
  readonly maxRecordingBytes: number;
}

export const recordingRoutes: Routes<RecordingDeps> = async (app, { store, desk, maxRecordingBytes }) => {
  app.addContentTypeParser(NDJSON, { parseAs: 'buffer' }, (_request, body, done) => done(null, body));
  app.post(
    '/recordings',
    {
      bodyLimit: maxRecordingBytes,
      schema: {
        consumes: [NDJSON],
        headers: z.object({
          'x-content-sha256': z
            .string('must be the SHA-256 of the body in hex')
            .regex(/^[0-9a-f]{64}$/i, 'must be the SHA-256 of the body: 64 hex digits'),
        }),
        body: z
          .instanceof(Uint8Array, { error: `must be a recording sent as ${NDJSON}` })
          .meta({ type: 'string', description: 'A recording: newline-delimited JSON' }),
        response: { 200: Receipt, 201: Receipt, '4xx': ApiError, '5xx': ApiError },
      },
    },
    async ({ body, headers }, reply) => {
      const received = await store.receive(body, headers['x-content-sha256']);
      if (!received.ok) throw new ApiFailure(CODES[received.code], received.message);
      const { attemptId, sha256, already } = received;
      // Scoring begins when the receipt is out: whoever sent it must not wait for it, nor send it twice.
      reply.raw.once('close', () => desk.add(attemptId));
      return reply.code(already ? 200 : 201).send({ attemptId, sha256, already });
    },
  );
};
