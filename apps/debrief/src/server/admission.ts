// Which bridge is let in: one on this computer, or one that shows a token of its station.
import type { IncomingHttpHeaders } from 'node:http';
import { ApiFailure } from './apiFailure.js';
import { hostProblem, isLocalAddress, originProblem } from './guards.js';
import type { StationTokens } from './stationTokens.js';

/** What is asked of a request; both HTTP and websockets have it. */
export interface Asking {
  readonly headers: IncomingHttpHeaders;
  /** Address of the computer that asks. */
  readonly remoteAddress: string | undefined;
}

/** Let in. `station` is the only one it may speak for; null: any, as it asks from this computer without a token. */
export interface Admitted {
  readonly station: string | null;
  readonly token: string | null;
}

/** @throws {ApiFailure} With what is wrong and what to do. */
export async function admitBridge(asking: Asking, tokens: StationTokens | undefined): Promise<Admitted> {
  const { headers, remoteAddress } = asking;
  const { authorization } = headers;
  if (authorization === undefined) {
    const problem = hostProblem(headers) ?? originProblem(headers);
    if (isLocalAddress(remoteAddress) && problem !== undefined) throw problem;
    if (isLocalAddress(remoteAddress)) return { station: null, token: null };
    throw new ApiFailure(
      'TOKEN_NEEDED',
      'a bridge on another computer needs a token: make one here with "stillprop station token NAME", and give it to that bridge',
    );
  }
  const token = /^Bearer +([\w.~+/=-]+)$/i.exec(authorization)?.[1];
  const station = token === undefined ? null : ((await tokens?.stationOf(token)) ?? null);
  if (token === undefined || station === null) {
    throw new ApiFailure(
      'TOKEN_REFUSED',
      'its token is not known here, or was revoked: make a new one with "stillprop station token NAME"',
    );
  }
  const problem = originProblem(headers);
  if (problem !== undefined) throw problem;
  return { station, token };
}

/** Why it may not speak for a station; undefined: it may. */
export function stationProblem({ station }: Admitted, spoken: string): ApiFailure | undefined {
  if (station === null || station === spoken) return undefined;
  return new ApiFailure('TOKEN_REFUSED', `its token is that of station "${station}", got "${spoken}"`);
}
