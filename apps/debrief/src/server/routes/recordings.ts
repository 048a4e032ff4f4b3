// POST /api/recordings: takes a recording, answers when it is safe on disk, and has it scored afterwards.
import { ApiError, Receipt } from '@stillprop/contracts';
import type { AttemptStore, ReceiveRefusal } from '@stillprop/store';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { type Admitted, admitBridge, stationProblem } from '../admission.js';
import { afterAnswer } from '../afterAnswer.js';
import { type ApiCode, ApiFailure } from '../apiFailure.js';
import type { ScoringDesk } from '../scoringDesk.js';
import type { StationTokens } from '../stationTokens.js';
import type { Routes } from '../zodTypes.js';

export const NDJSON = 'application/x-ndjson';

const LINE_FEED = 0x0a;
/** No header of a recording is anywhere near this long. */
const LONGEST_HEADER_BYTES = 1024 * 1024;

const CODES: Record<ReceiveRefusal, ApiCode> = {
  'hash-differs': 'RECORDING_REFUSED',
  'no-recording': 'RECORDING_REFUSED',
  'other-recording-kept': 'RECORDING_CONFLICT',
};

export interface RecordingDeps {
  readonly store: AttemptStore;
  readonly desk: ScoringDesk;
  readonly maxRecordingBytes: number;
  readonly tokens: StationTokens | undefined;
}

export const recordingRoutes: Routes<RecordingDeps> = async (app, { store, desk, maxRecordingBytes, tokens }) => {
  const admitted = new WeakMap<FastifyRequest, Admitted>();
  app.addContentTypeParser(NDJSON, { parseAs: 'buffer' }, (_request, body, done) => done(null, body));
  app.post(
    '/recordings',
    {
      bodyLimit: maxRecordingBytes,
      config: { forBridges: true },
      // Before a byte of the recording is read.
      onRequest: async (request) => {
        const { headers, socket } = request;
        admitted.set(request, await admitBridge({ headers, remoteAddress: socket.remoteAddress }, tokens));
      },
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
    async (request, reply) => {
      const { body, headers } = request;
      const station = stationNamed(body);
      const problem = station === null ? undefined : stationProblem(admitted.get(request) as Admitted, station);
      if (problem !== undefined) throw problem;
      const received = await store.receive(body, headers['x-content-sha256']);
      if (!received.ok) throw new ApiFailure(CODES[received.code], received.message);
      const { attemptId, sha256, already } = received;
      // Scoring begins when the receipt is out: whoever sent it must not wait for it, nor send it twice.
      afterAnswer(reply, () => desk.add(attemptId));
      return reply.code(already ? 200 : 201).send({ attemptId, sha256, already });
    },
  );
};

/** The station in a recording's first line; null if there is none: the store then says what is wrong with it. */
function stationNamed(body: Uint8Array): string | null {
  const feed = body.subarray(0, LONGEST_HEADER_BYTES).indexOf(LINE_FEED);
  if (feed < 0) return null;
  try {
    const { station } = JSON.parse(new TextDecoder().decode(body.subarray(0, feed))) as { station?: unknown };
    return typeof station === 'string' ? station : null;
  } catch {
    return null;
  }
}
