// The bridge beside a simulator, or beside each of a whole room: listens, runs attempts, records them, tells the server.
import type { LinkProfile, LiveState, StationCommand } from '@stillprop/contracts';
import { flownLinks } from './flownLinks.js';
import { lockFolder } from './folderLock.js';
import { makeFolders } from './folders.js';
import { linkOffer } from './linkOffer.js';
import { Outbox } from './outbox.js';
import { recoverRecordings } from './recoverRecordings.js';
import { type Answer, keepServerLink, type ServerLink } from './serverLink.js';
import { Station } from './station.js';

export type { Answer } from './serverLink.js';

/** How long a closing bridge tries to bring an open recording into the outbox; what is left, the next start recovers. */
const CLOSE_WITHIN_MS = 3000;

export interface StationOptions {
  /** Name of this station, as pages and recordings show it. */
  readonly station: string;
  /** The first one is open from the start; `arm` and `begin` open the others. Those named in `merge` are opened together. */
  readonly links: readonly LinkProfile[];
  /** By which the server knows this station; a server on another computer asks for it. */
  readonly token?: string | null;
  /** Where links that are taught on the page are kept; absent: they cannot be saved, only downloaded. */
  readonly linksDir?: string;
}

export interface CommonOptions {
  /** Base address of the debrief server (http or https); null: recordings stay in the outbox. */
  readonly serverUrl: string | null;
  /** Holds `recordings`, `outbox` and `refused`. */
  readonly dataDir: string;
  readonly log?: (line: string) => void;
}
export interface BridgeOptions extends StationOptions, CommonOptions {}
export interface RoomOptions extends CommonOptions {
  readonly stations: readonly StationOptions[];
}

/** One station of a bridge. */
export interface BridgeStation {
  live(): LiveState;
  command(command: StationCommand): Promise<Answer>;
  /** Where the open link listens or connects to; null: none is open. */
  linkAddress(): { readonly host: string; readonly port: number } | null;
  /** Why the first link could not be opened, and what to do, while none is open; it is tried again. Else null. */
  linkProblem(): string | null;
}

export interface Bridge extends BridgeStation {
  /** Ends an attempt as interrupted, and leaves everything safe on the disk. */
  close(): Promise<void>;
}

export interface Room {
  /** In the order given. */
  readonly stations: readonly BridgeStation[];
  /** Ends all attempts as interrupted, and leaves everything safe on the disk. */
  close(): Promise<void>;
}

/**
 * Starts the bridge of one station. It works without a server and while the server is away; a link that cannot be opened
 * is an alarm, not an error, because the person can then choose another, and its port may become free: it is tried again.
 *
 * @throws {RangeError} If a link profile cannot work. @throws {Error} If the data folder is in use or cannot be made.
 */
export async function startBridge({ station, links, token, linksDir, ...common }: BridgeOptions): Promise<Bridge> {
  const own = { station, links, ...(token !== undefined && { token }), ...(linksDir !== undefined && { linksDir }) };
  const room = await startRoom({ ...common, stations: [own] });
  return { ...(room.stations[0] as BridgeStation), close: room.close };
}

/**
 * Starts one bridge for many stations: each has links, attempt, recorder and a connection to the server of its own, and
 * all have one data folder and one outbox.
 *
 * @throws {RangeError} If two stations have one name, or a link profile cannot work.
 * @throws {Error} If the data folder is in use or cannot be made.
 */
export async function startRoom({ stations: asked, serverUrl, dataDir, log = () => undefined }: RoomOptions) {
  const wanted = asked.map(({ station: name, links, token = null, linksDir = null }) => ({
    name,
    token,
    linksDir,
    links: flownLinks(links),
  }));
  const twice = wanted.find(({ name }, index) => wanted.findIndex((other) => other.name === name) !== index);
  if (twice !== undefined) throw new RangeError(`name must differ from station to station, got "${twice.name}" twice`);

  const folders = await makeFolders(dataDir);
  let tellLost = log;
  const lock = await lockFolder(dataDir, {
    onLost: () => tellLost(`Another bridge has taken over the folder ${dataDir}: end one of the two.`),
    log,
  });
  try {
    for (const line of await recoverRecordings(folders)) log(`recovered ${line}`);
  } catch (error) {
    await lock.release();
    throw error;
  }

  const tokens = new Map(wanted.map(({ name, token }) => [name, token]));
  const named = wanted.length > 1;
  const stations = new Map<string, Station>();
  const alarm = (about: string, message: string | null) => {
    for (const station of stations.values()) station.alarm(about, message);
  };
  const outbox = new Outbox(folders, serverUrl, {
    tokenOf: (station) => tokens.get(station) ?? null,
    onRefused: (message) => alarm('refused', message),
    log,
  });
  const servers = new Map<string, ServerLink>();
  for (const { name, links, linksDir } of wanted) {
    const logOwn = named ? (line: string) => log(`${name}: ${line}`) : log;
    const onLinks = () => servers.get(name)?.helloAgain();
    stations.set(name, new Station({ name, links, linksDir, onLinks, folders, outbox, log: logOwn }));
  }
  tellLost = (message) => alarm('folder', message);
  const own = wanted.map((one) => ({ ...one, station: stations.get(one.name) as Station }));
  await Promise.all(own.map(({ station }) => station.openFirst()));
  for (const { name, token, station } of own) {
    if (serverUrl === null) break;
    const server = keepServerLink({
      serverUrl,
      token,
      hello: () => ({ type: 'hello', station: name, links: station.offers().map(linkOffer) }),
      live: () => station.live(),
      heard: () => station.heard(),
      command: (command) => station.command(command),
      onConnected: () => outbox.look(),
      onNameTaken: (taken) => station.alarm('server', taken ? nameTaken(name) : null),
      onTokenRefused: (why) => station.alarm('token', why === null ? null : tokenRefused(name, why)),
      log: named ? (line) => log(`${name}: ${line}`) : log,
    });
    servers.set(name, server);
  }

  let closing: Promise<void> | null = null;
  const close = async () => {
    for (const server of servers.values()) server.close();
    await Promise.all(own.map(({ station }) => station.close(CLOSE_WITHIN_MS)));
    await outbox.close();
    await lock.release();
  };
  return {
    stations: own.map(
      ({ station }): BridgeStation => ({
        live: () => station.live(),
        command: (command) => station.command(command),
        linkAddress: () => station.linkAddress(),
        linkProblem: () => station.linkProblem(),
      }),
    ),
    close: () => {
      closing ??= close();
      return closing;
    },
  } satisfies Room;
}

function nameTaken(station: string): string {
  return `Another bridge has taken the name of this station, ${station}, so the server does not show this one: give each a name of its own (--station).`;
}

function tokenRefused(station: string, why: string): string {
  return `The server does not take station ${station}: ${why}. Recordings are kept here until it does.`;
}
