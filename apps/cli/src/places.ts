// Where things are: the demo shelf and the built pages in the repository, and the user's data folder.
import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../../', import.meta.url));

/** The shelf that ships: invented aeroplanes, runways, weather, rubrics, scenarios and links. */
export const SHELF_DIR = join(root, 'fixtures');
export const BIN_PATH = fileURLToPath(new URL('../bin/stillprop.mjs', import.meta.url));

/** Default data folder: STILLPROP_DATA, else `.stillprop` in the home folder. */
export function defaultDataDir(): string {
  return process.env.STILLPROP_DATA ?? join(homedir(), '.stillprop');
}

/** The shelf that ships, and after it the user's own where there is one: a file of the same name there takes its place. */
export function shelves(dataDir: string): string[] {
  const own = join(dataDir, 'catalogue');
  return existsSync(own) ? [SHELF_DIR, own] : [SHELF_DIR];
}
