// Reads the shelf of aeroplanes, runways, weather, rubrics and scenarios from folders.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  bundleOf,
  CATALOGUE_FOLDERS,
  type Catalogue,
  type CatalogueFile,
  catalogueFromFiles,
  type ScenarioBundle,
} from '@stillprop/contracts';
import { checkFlyRequest } from '@stillprop/physics';

const ENDING = '.json';

/**
 * The catalogue of several folders, each with `aircraft`, `runways`, `weather`, `rubrics` and `scenarios` inside (one
 * that is not there is empty). A file in a later folder takes the place of one with the same name in an earlier.
 *
 * @throws {Error} With one sentence naming the first file that is wrong, and what would be right.
 */
export function readCatalogue(dirs: readonly string[]): Catalogue {
  const files = dirs.flatMap((dir) => {
    const own = filesIn(dir);
    const parsed = catalogueFromFiles(own);
    if (!parsed.ok) throw new Error(join(dir, parsed.problem.message)); // the message begins with the file's path in dir
    for (const [id, scenario] of parsed.value.scenarios) {
      if (scenario.id !== id) {
        throw new Error(
          `${join(dir, 'scenarios', id + ENDING)}: id must be "${id}", as its file is named, got "${scenario.id}"`,
        );
      }
    }
    return own;
  });
  const all = catalogueFromFiles(files);
  if (!all.ok) throw new Error(all.problem.message);
  for (const id of all.value.scenarios.keys()) {
    const bundle = bundleOf(all.value, id);
    if (!bundle.ok) throw new Error(`scenarios/${id}${ENDING}: ${bundle.problem.message}`);
    const problem = physicsProblem(bundle.value);
    if (problem !== null) throw new Error(`scenarios/${id}${ENDING}: ${problem}`);
  }
  return all.value;
}

/** What no aeroplane could fly of a scenario, though each number by itself may be right; null: nothing. */
function physicsProblem({ scenario, aircraft, runway, weather }: ScenarioBundle): string | null {
  const { technique, failure } = scenario;
  const { height, powerFraction, propeller } = failure;
  const heightsFt = height.choose === 'fixed' ? [height.heightFt] : [height.lowestFt, height.highestFt];
  try {
    for (const heightFt of heightsFt)
      checkFlyRequest({ aircraft, runway, weather, technique, failure: { heightFt, powerFraction, propeller } });
    return null;
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}

function filesIn(dir: string): CatalogueFile[] {
  try {
    readdirSync(dir);
  } catch (error) {
    throw new Error(`The catalogue folder ${dir} cannot be read: ${(error as Error).message}`, { cause: error });
  }
  return CATALOGUE_FOLDERS.flatMap((folder) =>
    namesIn(join(dir, folder))
      .filter((name) => name.endsWith(ENDING))
      .sort()
      .map((name) => ({
        folder,
        id: name.slice(0, -ENDING.length),
        text: readFileSync(join(dir, folder, name), 'utf8'),
      })),
  );
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
}
