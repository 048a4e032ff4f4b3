// The file of a room, with the link files and tokens it names, held to all that the bridge asks before anything is started.
import { dirname, join, resolve } from 'node:path';
import { type LinkProfile, RoomFile } from '@stillprop/contracts';
import { BadInput, readInput, readJsonInput } from './badInput.js';
import { linkFiles, readLinks } from './linkFiles.js';

export interface RoomStation {
  readonly station: string;
  readonly links: LinkProfile[];
  readonly token: string | null;
  /** Where links that are taught at this station are kept. */
  readonly linksDir: string;
}

/**
 * @param linksFolder Holds a folder for each station, with the links taught there.
 * @throws {BadInput} With one line that names file, field and what would be right.
 */
export function readRoom(path: string, linksFolder: string): RoomStation[] {
  const { stations } = readJsonInput(RoomFile, path);
  const beside = (name: string) => resolve(dirname(path), name);
  const nameOfPort = new Map<string, string>();
  return stations.map(({ name, links: paths, tokenFile }, index) => {
    if (stations.findIndex((other) => other.name === name) !== index) {
      throw new BadInput(`${path}: stations[${index}].name must differ from station to station, got "${name}" twice`);
    }
    // A name may hold what no folder's can.
    const linksDir = join(linksFolder, `station-${encodeURIComponent(name)}`);
    const links = readLinks(linkFiles(paths.map(beside), linksDir));
    for (const { id, transport } of links) {
      if (!('listenPort' in transport) || transport.listenPort === 0) continue;
      const port = `${transport.kind === 'udp' ? 'UDP' : 'TCP'} port ${transport.listenPort}`;
      const other = nameOfPort.get(port);
      const shared = transport.kind === 'udp' && transport.multicastGroup !== undefined;
      if (other !== undefined && other !== name && !shared) {
        throw new BadInput(
          `${path}: stations "${other}" and "${name}" (link "${id}") both listen on ${port}: each station needs a port of its own`,
        );
      }
      nameOfPort.set(port, name);
    }
    const token = tokenFile === undefined ? null : readToken(beside(tokenFile));
    return { station: name, links, token, linksDir };
  });
}

/** The token in a file. @throws {BadInput} If the file holds none. */
export function readToken(path: string): string {
  const token = readInput(path).trim();
  if (/^[\w-]{20,200}$/.test(token)) return token;
  throw new BadInput(`${path} must hold the token that "stillprop station token NAME" printed, and nothing else`);
}
