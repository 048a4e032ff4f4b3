// Keeps a link profile in the folder of links, so that it is there at the next start too.
import { randomUUID } from 'node:crypto';
import { access, mkdir, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { LinkProfile } from '@stillprop/contracts';
import { type FlownLinks, flownLinks } from '../flownLinks.js';
import { syncFolder } from '../folders.js';

/**
 * Writes the file whole, or not at all.
 *
 * @param known Links in use; one whose file is another must keep its id to itself.
 * @returns Path of the file, and the links in use with this one.
 * @throws {RangeError} If one of them could not be flown, or its id is taken, in one sentence.
 */
export async function saveLink(
  folder: string | null,
  profile: LinkProfile,
  known: readonly LinkProfile[],
): Promise<{ readonly path: string; readonly links: FlownLinks }> {
  if (folder === null)
    throw new RangeError('this bridge was started without a folder for links: download the file instead');
  const links = flownLinks([...known.filter(({ id }) => id !== profile.id), profile]);
  await mkdir(folder, { recursive: true });
  const path = join(folder, `${profile.id}.json`);
  const isThere = await access(path).then(
    () => true,
    () => false,
  );
  if (!isThere && known.some(({ id }) => id === profile.id)) {
    throw new RangeError(
      `id must be one that no other link has, got "${profile.id}": give this one another short name`,
    );
  }
  // The name of a half-written file does not end in .json: no start reads it.
  const half = `${path}.${randomUUID()}.part`;
  await writeFile(half, `${JSON.stringify(profile, null, 2)}\n`, { flush: true });
  await rename(half, path);
  await syncFolder(folder);
  return { path, links };
}
