// The stations: who is connected, what each shows at this moment, and commands to them with their answers.
import { randomUUID } from 'node:crypto';
import type {
  BridgeAnswer,
  BridgeHello,
  Heard,
  LiveState,
  ServerMessage,
  Station,
  StationAnswer,
  StationCommand,
} from '@stillprop/contracts';
import { ApiFailure } from './apiFailure.js';

const MOST_STATIONS = 64;
/** A bridge that was refused asks again within half a minute: for so long the station it asked for shows that. */
const ASKED_FOR_MS = 60_000;
const ASKED_FOR =
  'Another bridge asked for the name of this station and was refused. What you see and command here is the first one: ' +
  'give the other a name of its own (--station).';

/** The way to one bridge. */
export interface BridgeLink {
  /** Tells one run of a bridge from every other: only the same one may take the place of a link that is there. */
  readonly bridge: string;
  send(message: ServerMessage): void;
  /** Ends it, because a newer link of the same bridge has taken its place. */
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
  /** What it hears while a link is taught. */
  heard: Heard | null;
  /** When another bridge last asked for this name (ms of `performance.now`). */
  askedForMs: number;
}

export interface JoinRefusal {
  readonly kind: 'full' | 'name-taken';
  readonly message: string;
}

export interface StationHub {
  /**
   * A bridge says who it is. A name is one bridge's for as long as it is connected (the sockets see to it that one which
   * does not answer is not). Returns why it cannot be taken, if so.
   */
  join(link: BridgeLink, hello: BridgeHello): JoinRefusal | undefined;
  live(link: BridgeLink, live: LiveState): void;
  heard(link: BridgeLink, heard: Heard | null): void;
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
        if (away === undefined) return { kind: 'full', message: `this server takes ${MOST_STATIONS} stations at most` };
        known.delete(away[0]);
      }
      const older = before?.link;
      if (before !== undefined && older !== undefined && older.bridge !== link.bridge) {
        before.askedForMs = performance.now();
        onChange();
        const message = `another bridge is connected as station "${hello.station}": give each a name of its own`;
        return { kind: 'name-taken', message };
      }
      const live = older === link ? (before?.live ?? null) : null;
      const askedForMs = before?.link === undefined ? Number.NEGATIVE_INFINITY : before.askedForMs;
      const heard = older === link ? (before?.heard ?? null) : null;
      known.set(hello.station, { hello, live, link, heard, askedForMs });
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
    heard(link, heard) {
      for (const station of known.values()) {
        if (station.link !== link) continue;
        station.heard = heard;
        onChange();
      }
    },
    answer(link, answer) {
      const one = pending.get(answer.id);
      if (one?.link === link) one.answer(answer);
    },
    leave(link) {
      for (const [name, station] of known) {
        if (station.link !== link) continue;
        station.link = undefined;
        station.heard = null;
        station.live = null; // figures of a moment that is over would pass for the present
        failAll(link, new ApiFailure('STATION_LEFT', `the connection to station ${name} broke before it answered`));
        onChange();
      }
    },
    stations() {
      return [...known]
        .map(([station, one]) => ({
          station,
          connected: one.link !== undefined,
          hello: one.hello,
          live: withAlarm(one),
          ...(one.heard === null ? {} : { heard: one.heard }),
        }))
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
        const { message, attemptId, profile } = answer;
        return { message, attemptId, ...(profile === undefined ? {} : { profile }) };
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

/** Its live state, and in its alarm what the server knows and the bridge does not. */
function withAlarm({ live, askedForMs }: Known): LiveState | null {
  if (live === null || performance.now() - askedForMs > ASKED_FOR_MS) return live;
  return { ...live, alarm: live.alarm === null ? ASKED_FOR : `${live.alarm} ${ASKED_FOR}` };
}
