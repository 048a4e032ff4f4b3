// How long the server waits for a client that is slow, silent or does not read, before it lets it go.
import type { FastifyHttpOptions, RawServerDefault } from 'fastify';

export interface Patience {
  /** For the headers of a request, from its first byte, or from connecting without any. */
  readonly headersMs: number;
  /** For a whole request, its body too. */
  readonly requestMs: number;
  /** While nothing moves either way: neither a byte of a request comes, nor is a byte of an answer taken. */
  readonly stillMs: number;
  /** Time between two looks at what is over its time. */
  readonly lookEveryMs: number;
}

/** A recording of 256 MiB must come at 2 MiB/s or more; a bridge sends it again. */
export const PATIENCE: Patience = { headersMs: 15_000, requestMs: 120_000, stillMs: 60_000, lookEveryMs: 5000 };

export function waitingOptions(patience: Patience): FastifyHttpOptions<RawServerDefault> {
  const { headersMs, requestMs, stillMs, lookEveryMs } = patience;
  return {
    requestTimeout: requestMs,
    connectionTimeout: stillMs,
    http: { headersTimeout: headersMs, connectionsCheckingInterval: lookEveryMs, requireHostHeader: false },
  };
}
