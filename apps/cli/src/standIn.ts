// Link files of the stand-in simulator on UDP ports that are free right now, so that two of them never meet.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { LinkProfile, UdpTransport } from '@stillprop/contracts';
import { readJsonInput } from './badInput.js';
import { freeUdpPort } from './freeUdpPort.js';
import { makeFolder } from './makeFolder.js';
import { SHELF_DIR } from './places.js';

export type StandInFormat = 'text' | 'json';

export interface StandIn {
  readonly links: readonly { readonly profile: LinkProfile; readonly path: string }[];
  /** Words that make the part `bench` speak with these links. */
  readonly benchWords: readonly string[];
}

/**
 * Writes the stand-in's link files into `dir`, in the order given: the first is the one offered first.
 *
 * @param option The option that named the folder. @throws {BadInput} If the folder cannot be made.
 */
export async function prepareStandIn(dir: string, formats: readonly StandInFormat[], option: string): Promise<StandIn> {
  makeFolder(dir, option);
  const commandPort = await freeUdpPort();
  const links: { profile: LinkProfile; path: string }[] = [];
  const benchWords = ['--port', String(commandPort)];
  for (const format of formats) {
    const shipped = readJsonInput(LinkProfile, join(SHELF_DIR, 'links', `stand-in-${format}.json`));
    const listenPort = await freeUdpPort();
    const profile: LinkProfile = {
      ...shipped,
      transport: UdpTransport.parse({ ...shipped.transport, listenPort }), // the stand-in sends datagrams
      ...(shipped.commands && { commands: { ...shipped.commands, port: commandPort } }),
    };
    const path = join(dir, `${profile.id}.json`);
    writeFileSync(path, JSON.stringify(profile));
    links.push({ profile, path });
    benchWords.push('--to', `${format}:${listenPort}`);
  }
  return { links, benchWords };
}
