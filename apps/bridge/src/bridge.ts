// The bridge beside a simulator: listens, runs attempts, records them, tells the server. Libraries only; the CLI starts it.
import type { LinkProfile, LiveState, StationCommand } from '@stillprop/contracts';
import { linkCommands, linkProfileProblem, missingChannels } from '@stillprop/links';
import { lockFolder } from './folderLock.js';
import { makeFolders } from './folders.js';
import { Outbox } from './outbox.js';
import { recoverRecordings } from './recoverRecordings.js';
import { type Answer, keepServerLink, type ServerLink } from './serverLink.js';
import { Station } from './station.js';

export type { Answer } from './serverLink.js';

/** How long a closing bridge tries to bring an open recording into the outbox; what is left, the next start recovers. */
const CLOSE_WITHIN_MS = 3000;

export interface BridgeOptions {
  /** Name of this station, as pages and recordings show it. */
  readonly station: string;
  /** The first one is open from the start; `arm` and `begin` open the others. */
  readonly links: readonly LinkProfile[];
  /** Base address of the debrief server (http or https); null: recordings stay in the outbox. */
  readonly serverUrl: string | null;
  /** Holds `recordings`, `outbox` and `refused`. */
  readonly dataDir: string;
  /** Where links that are taught on the page are kept; absent: they cannot be saved, only downloaded. */
  readonly linksDir?: string;
  readonly log?: (line: string) => void;
}

export interface Bridge {
  live(): LiveState;
  command(command: StationCommand): Promise<Answer>;
  /** Where the open link listens; null: none is open. */
  linkAddress(): { readonly host: string; readonly port: number } | null;
  /** Why the first link could not be opened, and what to do, while none is open; it is tried again. Else null. */
  linkProblem(): string | null;
  /** Ends an attempt as interrupted, and leaves everything safe on the disk. */
  close(): Promise<void>;
}

/**
 * Starts a bridge. It works without a server and while the server is away; a link that cannot be opened is an alarm, not
 * an error, because the person can then choose another, and its port may become free: it is tried again.
 *
 * @throws {RangeError} If a link profile cannot work. @throws {Error} If the data folder is in use or cannot be made.
 */
export async function startBridge(options: BridgeOptions): Promise<Bridge> {
  const { station: name, links, serverUrl, dataDir, log = () => undefined } = options;
  for (const profile of links) {
    const problem = linkProfileProblem(profile);
    if (problem !== null) throw new RangeError(`link "${profile.id}": ${problem.message}`);
  }
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

  const outbox = new Outbox(folders, serverUrl, {
    onRefused: (message) => station.alarm('refused', message),
    log,
  });
  const station = new Station({
    name,
    links,
    linksDir: options.linksDir ?? null,
    onLinks: () => server?.helloAgain(),
    folders,
    outbox,
    log,
  });
  tellLost = (message) => station.alarm('folder', message);
  await station.openFirst();
  const server: ServerLink | null =
    serverUrl === null
      ? null
      : keepServerLink({
          serverUrl,
          hello: () => ({ type: 'hello', station: name, links: station.links().map(told) }),
          heard: () => station.heard(),
          live: () => station.live(),
          command: (command) => station.command(command),
          onConnected: () => outbox.look(),
          onNameTaken: (taken) => station.alarm('server', taken ? nameTaken(name) : null),
          log,
        });

  let closing: Promise<void> | null = null;
  const close = async () => {
    server?.close();
    await station.close(CLOSE_WITHIN_MS);
    await outbox.close();
    await lock.release();
  };
  return {
    live: () => station.live(),
    command: (command) => station.command(command),
    linkAddress: () => station.linkAddress(),
    linkProblem: () => station.linkProblem(),
    close: () => {
      closing ??= close();
      return closing;
    },
  };
}

function nameTaken(station: string): string {
  return `Another bridge has taken the name of this station, ${station}, so the server does not show this one: give each a name of its own (--station).`;
}

function told(profile: LinkProfile) {
  return {
    id: profile.id,
    name: profile.name,
    description: profile.description,
    commands: linkCommands(profile),
    pilots: profile.pilots ?? [],
    missing: missingChannels(profile),
  };
}
