// The stations: who is connected, what each shows at this moment, and commands to them with their answers.
import { randomUUID } from 'node:crypto';
import type {
  BridgeAnswer,
  BridgeHello,
  LiveState,
  ServerMessage,
  Station,
  StationAnswer,
  StationCommand,
} from '@stillprop/contracts';
import { ApiFailure } from './apiFailure.js';

const MOST_STATIONS = 64;

/** The way to one bridge. */
export interface BridgeLink {
  send(message: ServerMessage): void;
  /** Ends it, because a newer link of the same station has taken its place. */
  replaced(): void;
}

interface Pending {
  readonly link: BridgeLink;
  answer(answer: BridgeAnswer): void;
  fail(failure: ApiFailure): void;
}

interface Known {
  hello: BridgeHello;
  live: LiveState | null;
  link: BridgeLink | undefined;
}

export interface StationHub {
  /** A bridge says who it is. Returns why it cannot be taken, if so. */
  join(link: BridgeLink, hello: BridgeHello): string | undefined;
  live(link: BridgeLink, live: LiveState): void;
  answer(link: BridgeLink, answer: BridgeAnswer): void;
  leave(link: BridgeLink): void;
  /** By name. */
  stations(): Station[];
  /**
   * Has a station do something.
   *
   * @throws {ApiFailure} If it is unknown, away, refuses, leaves, or does not answer in time.
   */
  ask(station: string, command: StationCommand): Promise<StationAnswer>;
  close(): void;
}

export function stationHub(onChange: () => void, answerWithinMs: number): StationHub {
  const known = new Map<string, Known>();
  const pending = new Map<string, Pending>();

  const failAll = (link: BridgeLink | undefined, failure: ApiFailure) => {
    for (const one of pending.values()) if (link === undefined || one.link === link) one.fail(failure);
  };

  return {
    join(link, hello) {
      const before = known.get(hello.station);
      if (before === undefined && known.size >= MOST_STATIONS) {
        const away = [...known].find(([, { link: there }]) => there === undefined);
        if (away === undefined) return `this server takes ${MOST_STATIONS} stations at most`;
        known.delete(away[0]);
      }
      const older = before?.link;
      known.set(hello.station, { hello, live: older === link ? (before?.live ?? null) : null, link });
      if (older !== undefined && older !== link) {
        failAll(older, new ApiFailure('STATION_LEFT', `station ${hello.station} connected anew before it answered`));
        older.replaced();
      }
      onChange();
      return undefined;
    },
    live(link, live) {
      const station = known.get(live.station);
      if (station?.link !== link) return;
      station.live = live;
      onChange();
    },
    answer(link, answer) {
      const one = pending.get(answer.id);
      if (one?.link === link) one.answer(answer);
    },
    leave(link) {
      for (const [name, station] of known) {
        if (station.link !== link) continue;
        station.link = undefined;
        station.live = null; // figures of a moment that is over would pass for the present
        failAll(link, new ApiFailure('STATION_LEFT', `the connection to station ${name} broke before it answered`));
        onChange();
      }
    },
    stations() {
      return [...known]
        .map(([station, { hello, live, link }]) => ({ station, connected: link !== undefined, hello, live }))
        .sort((a, b) => a.station.localeCompare(b.station, 'en'));
    },
    async ask(name, command) {
      const station = known.get(name);
      if (station === undefined)
        throw new ApiFailure('STATION_NOT_FOUND', `no station ${name} has connected to this server`);
      const { link } = station;
      if (link === undefined) throw new ApiFailure('STATION_AWAY', `station ${name} is not connected at the moment`);
      const id = randomUUID();
      let timer: NodeJS.Timeout | undefined;
      try {
        const answer = await new Promise<BridgeAnswer>((resolve, reject) => {
          pending.set(id, { link, answer: resolve, fail: reject });
          timer = setTimeout(() => {
            const message = `station ${name} did not answer within ${answerWithinMs / 1000} s; look at it before trying again`;
            reject(new ApiFailure('STATION_SILENT', message));
          }, answerWithinMs);
          link.send({ type: 'do', id, command });
        });
        if (!answer.ok) throw new ApiFailure('STATION_REFUSED', answer.message);
        return { message: answer.message, attemptId: answer.attemptId };
      } finally {
        clearTimeout(timer);
        pending.delete(id);
      }
    },
    close() {
      failAll(undefined, new ApiFailure('CLOSING', 'the server is closing'));
    },
  };
}
