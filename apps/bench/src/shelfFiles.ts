// Reads the shelf of scenarios from folders: what the stand-in can fly.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CATALOGUE_FOLDERS, type Catalogue, type CatalogueFile, catalogueFromFiles } from '@stillprop/contracts';

/** @throws {Error} With one clear sentence if a file is wrong. */
export function readShelf(dirs: readonly string[]): Catalogue {
  const files: CatalogueFile[] = dirs.flatMap((dir) =>
    CATALOGUE_FOLDERS.flatMap((folder) => {
      const path = join(dir, folder);
      if (!existsSync(path)) return [];
      return readdirSync(path)
        .filter((name) => name.endsWith('.json'))
        .sort()
        .map((name) => ({ folder, id: name.slice(0, -'.json'.length), text: readFileSync(join(path, name), 'utf8') }));
    }),
  );
  const parsed = catalogueFromFiles(files);
  if (!parsed.ok) throw new Error(parsed.problem.message);
  return parsed.value;
}
