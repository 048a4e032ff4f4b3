// One bridge's connection: reads its messages, and ends it with a reason at the first that is not right.
import { randomUUID } from 'node:crypto';
import { BridgeMessage, parseJson } from '@stillprop/contracts';
import { type Admitted, stationProblem } from './admission.js';
import type { BridgeLink, StationHub } from './stationHub.js';

/** Close codes of the websocket standard (RFC 6455, 7.4.1), and two of our own in its private range. */
export const CLOSE = {
  goingAway: 1001,
  notText: 1003,
  refused: 1008,
  tryLater: 1013,
  /** By a newer connection of the same bridge. */
  replaced: 4000,
  /** Another bridge holds the name of the station: the one refused must not ask again at once. */
  nameTaken: 4001,
} as const;

/** What a session needs of its websocket. */
export interface BridgeSocket {
  send(text: string): void;
  close(code: number, reason: string): void;
}

export interface BridgeSession {
  message(data: string, isBinary: boolean): void;
  closed(): void;
}

/**
 * @param admitted Which station it may be.
 * @param bridge Which run of a bridge this is; one that does not tell is taken for one of its own.
 */
export function bridgeSession(
  socket: BridgeSocket,
  hub: StationHub,
  admitted: Admitted,
  bridge: string = randomUUID(),
): BridgeSession {
  let station: string | undefined;
  const link: BridgeLink = {
    bridge,
    send: (message) => socket.send(JSON.stringify(message)),
    replaced: () => socket.close(CLOSE.replaced, `a newer connection of station ${station} has taken this one's place`),
  };
  return {
    message(data, isBinary) {
      if (isBinary) return socket.close(CLOSE.notText, 'a message must be JSON text, got binary data');
      const parsed = parseJson(BridgeMessage, data, 'the message');
      if (!parsed.ok) return socket.close(CLOSE.refused, parsed.problem.message);
      const message = parsed.value;
      if (message.type === 'hello') {
        if (station !== undefined && station !== message.station) {
          return socket.close(
            CLOSE.refused,
            `station must stay "${station}" on this connection, got "${message.station}"`,
          );
        }
        const problem = stationProblem(admitted, message.station);
        if (problem !== undefined) return socket.close(CLOSE.refused, problem.message);
        const refusal = hub.join(link, message);
        if (refusal !== undefined) {
          return socket.close(refusal.kind === 'full' ? CLOSE.tryLater : CLOSE.nameTaken, refusal.message);
        }
        station = message.station;
        return;
      }
      if (station === undefined) {
        return socket.close(CLOSE.refused, `the first message must be the hello, got type "${message.type}"`);
      }
      if (message.type === 'answer') return hub.answer(link, message);
      if (message.type === 'heard') return hub.heard(link, message.heard);
      if (message.live.station !== station) {
        return socket.close(CLOSE.refused, `live.station must be "${station}", got "${message.live.station}"`);
      }
      hub.live(link, message.live);
    },
    closed: () => hub.leave(link),
  };
}
