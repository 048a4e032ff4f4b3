// Answers to what reaches no route: an address that cannot be decoded, text that is no HTTP, a request too slow or too long.
import { STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import type { ApiError } from '@stillprop/contracts';
import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { ApiFailure } from './apiFailure.js';
import { addressProblem, hostProblem, SECURITY_HEADERS } from './guards.js';

/** An error met before any route was found. The checks of who may ask stand before this answer as before every other. */
export function answerUnroutable(error: FastifyError, request: FastifyRequest, reply: FastifyReply): void {
  const failure =
    addressProblem(request.socket.remoteAddress) ??
    hostProblem(request.headers) ??
    new ApiFailure('BAD_REQUEST', addressWords(error));
  const answer: ApiError = { code: failure.code, message: failure.message };
  reply
    .headers(SECURITY_HEADERS)
    .header('cache-control', 'no-store')
    .code(failure.statusCode)
    .type('application/json')
    .send(JSON.stringify(answer));
}

function addressWords({ code }: FastifyError): string {
  return code === 'FST_ERR_MAX_PARAM_LENGTH'
    ? 'a part of the address is too long to name anything here'
    : 'the address cannot be decoded: every % in it must begin a byte of UTF-8 in two hex digits';
}

/** What Node's reader of HTTP gave up on. */
export function answerBroken(error: NodeJS.ErrnoException, socket: Duplex): void {
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy();
    return;
  }
  endWith(socket, brokenFailure(error.code));
}

function brokenFailure(code: string | undefined): ApiFailure {
  switch (code) {
    case 'HPE_HEADER_OVERFLOW':
      return new ApiFailure('HEADERS_TOO_LARGE', 'the headers of a request must be at most 16 KiB');
    case 'ERR_HTTP_REQUEST_TIMEOUT':
      return new ApiFailure('TOO_SLOW', 'the request did not come in whole in the time there is for one');
    default:
      return new ApiFailure('BAD_REQUEST', 'the request must be HTTP/1.1, whole and with one length');
  }
}

/** The last answer on a connection, which ends with it for good: a side that leaves its half open is not waited for. */
export function endWith(socket: Duplex, { statusCode, code, message }: ApiFailure): void {
  const body = JSON.stringify({ code, message });
  const headers = {
    ...SECURITY_HEADERS,
    connection: 'close',
    'content-type': 'application/json',
    'content-length': Buffer.byteLength(body),
  };
  const lines = Object.entries(headers).map(([name, value]) => `${name}: ${value}`);
  socket.end([`HTTP/1.1 ${statusCode} ${STATUS_CODES[statusCode]}`, ...lines, '', body].join('\r\n'), () =>
    socket.destroy(),
  );
}
