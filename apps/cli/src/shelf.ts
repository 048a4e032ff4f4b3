// The shelf as a command reads it: what ships, and after it the user's own.
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import {
  bundleOf,
  CATALOGUE_FOLDERS,
  type CatalogueFile,
  catalogueFromFiles,
  type ScenarioBundle,
} from '@stillprop/contracts';
import { accept, readInput } from './badInput.js';
import { shelves } from './places.js';

const ENDING = '.json';

/** A scenario with all it names. @throws {BadInput} */
export function scenarioOnShelf(scenarioId: string, dataDir: string): ScenarioBundle {
  const files = shelves(dataDir).flatMap((dir) =>
    CATALOGUE_FOLDERS.filter((folder) => existsSync(join(dir, folder))).flatMap((folder): CatalogueFile[] =>
      readdirSync(join(dir, folder))
        .filter((name) => name.endsWith(ENDING))
        .map((name) => ({ folder, id: name.slice(0, -ENDING.length), text: readInput(join(dir, folder, name)) })),
    ),
  );
  return accept(bundleOf(accept(catalogueFromFiles(files)), scenarioId));
}
