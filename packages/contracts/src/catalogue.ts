// The shelf of aeroplanes, runways, weather, rubrics and scenarios, and a scenario put together with what it names.
import type { z } from 'zod';
import { Aircraft } from './aircraft.js';
import { type Parsed, parseJson } from './problem.js';
import { Rubric } from './rubric.js';
import { Runway } from './runway.js';
import { Scenario, type ScenarioBundle } from './scenario.js';
import { Weather } from './weather.js';

/** Folder of each kind; a file's name without `.json` is its id. */
export const CATALOGUE_FOLDERS = ['aircraft', 'runways', 'weather', 'rubrics', 'scenarios'] as const;
export interface CatalogueFile {
  readonly folder: (typeof CATALOGUE_FOLDERS)[number];
  readonly id: string;
  readonly text: string;
}

/** Everything on the shelf, by id. */
export interface Catalogue {
  readonly aircraft: ReadonlyMap<string, Aircraft>;
  readonly runways: ReadonlyMap<string, Runway>;
  readonly weather: ReadonlyMap<string, Weather>;
  readonly rubrics: ReadonlyMap<string, Rubric>;
  readonly scenarios: ReadonlyMap<string, Scenario>;
}

/** A catalogue from the texts of its files; a later file takes the place of an earlier one of the same id. */
export function catalogueFromFiles(files: Iterable<CatalogueFile>): Parsed<Catalogue> {
  const catalogue = {
    aircraft: new Map<string, Aircraft>(),
    runways: new Map<string, Runway>(),
    weather: new Map<string, Weather>(),
    rubrics: new Map<string, Rubric>(),
    scenarios: new Map<string, Scenario>(),
  };
  const schemas = { aircraft: Aircraft, runways: Runway, weather: Weather, rubrics: Rubric, scenarios: Scenario };
  for (const { folder, id, text } of files) {
    const whole = `${folder}/${id}.json`;
    const parsed = parseJson<z.ZodType>(schemas[folder], text, whole);
    if (!parsed.ok) {
      const { field, message } = parsed.problem;
      return { ok: false, problem: { field, message: field === whole ? message : `${whole}: ${message}` } };
    }
    (catalogue[folder] as Map<string, unknown>).set(id, parsed.value);
  }
  return { ok: true, value: catalogue };
}

/** A scenario with full copies of what it names, or which of the names is on no shelf. */
export function bundleOf(catalogue: Catalogue, scenarioId: string): Parsed<ScenarioBundle> {
  const scenario = catalogue.scenarios.get(scenarioId);
  if (scenario === undefined) return missing('scenarioId', scenarioId, [...catalogue.scenarios.keys()]);
  const aircraft = catalogue.aircraft.get(scenario.aircraftId);
  if (aircraft === undefined) return missing('aircraftId', scenario.aircraftId, [...catalogue.aircraft.keys()]);
  const runway = catalogue.runways.get(scenario.runwayId);
  if (runway === undefined) return missing('runwayId', scenario.runwayId, [...catalogue.runways.keys()]);
  const weather = catalogue.weather.get(scenario.weatherId);
  if (weather === undefined) return missing('weatherId', scenario.weatherId, [...catalogue.weather.keys()]);
  const rubric = catalogue.rubrics.get(scenario.rubricId);
  if (rubric === undefined) return missing('rubricId', scenario.rubricId, [...catalogue.rubrics.keys()]);
  return { ok: true, value: { scenario, aircraft, runway, weather, rubric } };
}

function missing(field: string, value: string, known: readonly string[]): Parsed<never> {
  return { ok: false, problem: { field, message: `${field} must be one of ${known.join(', ')}, got "${value}"` } };
}
