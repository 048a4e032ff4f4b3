// Which link files a start uses, and reading them, each held to all that the bridge asks of it.
import { existsSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { LinkProfile } from '@stillprop/contracts';
import { linkPartProblem, linkSets } from '@stillprop/links';
import { BadInput, readJsonInput } from './badInput.js';

/** The link files named, then those taught or put into a folder, each once; none is no fault: one can be taught. */
export function linkFiles(named: readonly string[], folder: string): string[] {
  const kept = existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => name.endsWith('.json'))
        .sort()
        .map((name) => join(folder, name))
    : [];
  const all = [...named, ...kept];
  return all.filter((path, index) => all.findIndex((other) => resolve(other) === resolve(path)) === index);
}

/**
 * Link files that work, each by itself or with those it names in `merge`.
 *
 * @throws {BadInput} With one line that names file, field and what would be right.
 */
export function readLinks(paths: readonly string[]): LinkProfile[] {
  const pathOfId = new Map<string, string>();
  const profiles = paths.map((path) => {
    const profile = readJsonInput(LinkProfile, path);
    const other = pathOfId.get(profile.id);
    if (other !== undefined) {
      throw new BadInput(`${path}: id "${profile.id}" is that of ${other} too: each link must have an id of its own`);
    }
    pathOfId.set(profile.id, path);
    return profile;
  });
  const found = linkSets(profiles);
  if (!found.ok) throw new BadInput(`${pathOfId.get(found.linkId)}: ${found.problem.message}`);
  return profiles;
}

/** A link file that is well formed, though it may lack channels that are needed. @throws {BadInput} */
export function readLinkPart(path: string): LinkProfile {
  const profile = readJsonInput(LinkProfile, path);
  const problem = linkPartProblem(profile);
  if (problem !== null) throw new BadInput(`${path}: ${problem.message}`);
  return profile;
}
