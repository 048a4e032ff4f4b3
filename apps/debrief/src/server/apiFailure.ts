// Every way in which the server says no: one table of codes with their HTTP status, and how an error becomes an answer.
import type { ApiError } from '@stillprop/contracts';
import type { FastifyError, FastifyInstance, FastifyReply } from 'fastify';
import { sendPage, wantsPage } from './pages.js';

export const API_CODES = {
  BAD_REQUEST: 400,
  RECORDING_REFUSED: 400,
  IMPORT_REFUSED: 400,
  SCENARIO_UNKNOWN: 400,
  TOKEN_NEEDED: 401,
  TOKEN_REFUSED: 401,
  FORBIDDEN_ADDRESS: 403,
  FORBIDDEN_HOST: 403,
  FORBIDDEN_ORIGIN: 403,
  NOT_FOUND: 404,
  ATTEMPT_NOT_FOUND: 404,
  SCENARIO_NOT_FOUND: 404,
  STATION_NOT_FOUND: 404,
  NOTE_NOT_FOUND: 404,
  TOO_SLOW: 408,
  STATION_AWAY: 409,
  STATION_REFUSED: 409,
  RECORDING_CONFLICT: 409,
  NOTE_CONFLICT: 409,
  NOTES_FULL: 409,
  ATTEMPT_DELETED: 410,
  RECORDING_GONE: 410,
  TOO_LARGE: 413,
  MEDIA_TYPE: 415,
  NOT_SCORED: 422,
  NOTES_DAMAGED: 422,
  HEADERS_TOO_LARGE: 431,
  SERVER_FAULT: 500,
  STATION_LEFT: 502,
  CLOSING: 503,
  STATION_SILENT: 504,
  DISK_FULL: 507,
} as const;
export type ApiCode = keyof typeof API_CODES;

/** Thrown by a route to answer with one sentence. */
export class ApiFailure extends Error {
  readonly statusCode: number;
  constructor(
    readonly code: ApiCode,
    message: string,
  ) {
    super(message);
    this.statusCode = API_CODES[code];
  }
}

/**
 * Makes every error an `ApiError`. What is our own fault goes to the log, and not to the caller.
 *
 * @param pages There are pages: a browser that asks for what is not there gets the one that says so.
 */
export function answerErrors(app: FastifyInstance, log: (line: string) => void, pages: boolean): void {
  app.setNotFoundHandler((request, reply) => {
    if (pages && wantsPage(request)) return sendPage(reply.code(404));
    answerWith(reply, new ApiFailure('NOT_FOUND', `there is nothing at ${request.method} ${request.url}`));
  });
  app.setErrorHandler<FastifyError>((error, request, reply) => {
    const failure = failureOf(error, request.routeOptions.bodyLimit);
    if (failure.statusCode === API_CODES.SERVER_FAULT) {
      log(`${request.method} ${request.url} failed: ${error.stack ?? String(error)}`);
    }
    answerWith(reply, failure);
  });
}

function answerWith(reply: FastifyReply, { statusCode, code, message }: ApiFailure): void {
  const answer: ApiError = { code, message };
  reply.code(statusCode).type('application/json').send(JSON.stringify(answer));
}

function failureOf(error: FastifyError, bodyLimit: number | undefined): ApiFailure {
  if (error instanceof ApiFailure) return error;
  switch (error.code) {
    case 'FST_ERR_CTP_BODY_TOO_LARGE':
      return new ApiFailure('TOO_LARGE', `the body must be at most ${sizeText(bodyLimit ?? 0)}`);
    case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
    case 'FST_ERR_CTP_EMPTY_TYPE':
      return new ApiFailure(
        'MEDIA_TYPE',
        'Content-Type must be application/json, or application/x-ndjson for a recording',
      );
    case 'ENOSPC':
    case 'EDQUOT':
    case 'SQLITE_FULL':
      return new ApiFailure(
        'DISK_FULL',
        'the disk of the data folder is full, so this was not taken in: make room and send it again',
      );
  }
  if (error.statusCode !== undefined && error.statusCode >= 400 && error.statusCode < 500) {
    return new ApiFailure('BAD_REQUEST', error.message);
  }
  return new ApiFailure('SERVER_FAULT', 'the server failed on this request; its log says why');
}

function sizeText(bytes: number): string {
  return bytes >= 2 ** 20 ? `${bytes / 2 ** 20} MiB` : `${bytes / 2 ** 10} KiB`;
}
