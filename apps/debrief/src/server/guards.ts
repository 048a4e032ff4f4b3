// Who may ask: this computer and our own pages only, as long as there is no log-in. Bridges: see admission.ts.
import type { IncomingHttpHeaders } from 'node:http';
import type { FastifyInstance } from 'fastify';
import { ApiFailure } from './apiFailure.js';

const LOOPBACK_HOST = /^(localhost|127(?:\.\d{1,3}){3}|\[::1\])(?::\d{1,5})?$/i;
const LOOPBACK_ADDRESS = /^(localhost|127(?:\.\d{1,3}){3}|::1)$/i;

/** Whether listening there is reachable from this computer only. */
export function isLoopback(host: string): boolean {
  return LOOPBACK_ADDRESS.test(host);
}

/** Whether a request comes from this computer. */
export function isLocalAddress(address: string | undefined): boolean {
  return address !== undefined && LOOPBACK_ADDRESS.test(address.replace(/^::ffff:/i, ''));
}

/** Pages and commands are for this computer; another one cannot get round it by the name it asks for. */
export function addressProblem(address: string | undefined): ApiFailure | undefined {
  if (isLocalAddress(address)) return undefined;
  const message = 'pages and commands are for the computer on which the debrief server runs';
  return new ApiFailure('FORBIDDEN_ADDRESS', message);
}

/** A page elsewhere whose name was made to lead here still sends its own name: it is turned away by that. */
export function hostProblem({ host }: IncomingHttpHeaders): ApiFailure | undefined {
  if (host !== undefined && LOOPBACK_HOST.test(host)) return undefined;
  return new ApiFailure('FORBIDDEN_HOST', `Host must be localhost, 127.0.0.1 or [::1], got "${host ?? ''}"`);
}

/** Browsers name the page that asks; other programs name none. Another site's page is turned away. */
export function originProblem({ origin, host }: IncomingHttpHeaders): ApiFailure | undefined {
  if (origin === undefined || origin === `http://${host}` || origin === `https://${host}`) return undefined;
  return new ApiFailure(
    'FORBIDDEN_ORIGIN',
    `Origin must be the address of this server (http://${host}), got "${origin}"`,
  );
}

/** On every answer, of whatever kind. */
export const SECURITY_HEADERS = {
  'content-security-policy': [
    "default-src 'self'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "style-src 'self'",
    "style-src-attr 'unsafe-inline'", // chart elements place their parts by style attributes; no style sheet gets in
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; '),
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
};

/** Routes that ask for themselves who may use them: a route says so in its config. */
declare module 'fastify' {
  interface FastifyContextConfig {
    forBridges?: boolean;
  }
}

/** Puts the checks before every route and the security headers on every answer. */
export function guard(app: FastifyInstance): void {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(SECURITY_HEADERS);
    if (request.url.startsWith('/api/')) reply.header('cache-control', 'no-store');
    const reads = request.method === 'GET' || request.method === 'HEAD';
    if (request.routeOptions.config?.forBridges === true) return;
    const problem =
      addressProblem(request.socket.remoteAddress) ??
      hostProblem(request.headers) ??
      (reads ? undefined : originProblem(request.headers));
    if (problem !== undefined) throw problem;
  });
}
