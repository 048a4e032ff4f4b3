// Which link files a start uses, each held to all that the bridge asks of it, before anything is started.
import { existsSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { LinkProfile } from '@stillprop/contracts';
import { linkSets } from '@stillprop/links';
import { BadInput, readJsonInput } from './badInput.js';

/** The stand-in's link files, those named on the command line, and those in the data folder. @throws {BadInput} */
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
  if (paths.length === 0) {
    throw new BadInput(
      `no link to a simulator: name a link file with --link FILE, put one into ${folder}, or try the stand-in with --bench`,
    );
  }
  readLinks(paths);
  return paths;
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
