// Which link files a start uses, each held to all that the bridge asks of it, before anything is started.
import { existsSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { LinkProfile } from '@stillprop/contracts';
import { linkPartProblem, linkProfileProblem } from '@stillprop/links';
import { BadInput, readJsonInput } from './badInput.js';

/** The stand-in's link files, those named on the command line, and those in the data folder; none is no fault: one can be taught. @throws {BadInput} */
export function linkFiles(standIn: readonly string[], named: readonly string[], dataDir: string): string[] {
  const folder = join(dataDir, 'links');
  const kept = existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => name.endsWith('.json'))
        .sort()
        .map((name) => join(folder, name))
    : [];
  const all = [...standIn, ...named, ...kept];
  const paths = all.filter((path, index) => all.findIndex((other) => resolve(other) === resolve(path)) === index);
  const pathOfId = new Map<string, string>();
  for (const path of paths) {
    const { id } = readLink(path);
    const other = pathOfId.get(id);
    if (other !== undefined) {
      throw new BadInput(`${path}: id "${id}" is that of ${other} too: each link must have an id of its own`);
    }
    pathOfId.set(id, path);
  }
  return paths;
}

/** A link file that works. @throws {BadInput} With one line that names file, field and what would be right. */
export function readLink(path: string): LinkProfile {
  const profile = readJsonInput(LinkProfile, path);
  const problem = linkProfileProblem(profile);
  if (problem !== null) throw new BadInput(`${path}: ${problem.message}`);
  return profile;
}

/** A link file that is well formed, though it may lack channels that are needed. @throws {BadInput} */
export function readLinkPart(path: string): LinkProfile {
  const profile = readJsonInput(LinkProfile, path);
  const problem = linkPartProblem(profile);
  if (problem !== null) throw new BadInput(`${path}: ${problem.message}`);
  return profile;
}
