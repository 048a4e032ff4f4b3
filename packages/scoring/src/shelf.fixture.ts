// The shipped scenarios with all they name, for tests.
import { readdirSync, readFileSync } from 'node:fs';
import {
  bundleOf,
  CATALOGUE_FOLDERS,
  type CatalogueFile,
  catalogueFromFiles,
  type DrawnFailure,
  type RecordingHeader,
  type ScenarioBundle,
} from '@stillprop/contracts';

const fixtures = new URL('../../../fixtures/', import.meta.url);
const files = CATALOGUE_FOLDERS.flatMap((folder): CatalogueFile[] =>
  readdirSync(new URL(`${folder}/`, fixtures))
    .filter((name) => name.endsWith('.json'))
    .map((name) => ({
      folder,
      id: name.replace(/\.json$/, ''),
      text: readFileSync(new URL(`${folder}/${name}`, fixtures), 'utf8'),
    })),
);

/** A shipped scenario put together. */
export function shelfBundle(scenarioId: string): ScenarioBundle {
  const catalogue = catalogueFromFiles(files);
  if (!catalogue.ok) throw new Error(catalogue.problem.message);
  const bundle = bundleOf(catalogue.value, scenarioId);
  if (!bundle.ok) throw new Error(bundle.problem.message);
  return bundle.value;
}

/** Header of an invented attempt at a scenario. */
export function headerOf(bundle: ScenarioBundle, drawn: Partial<DrawnFailure> = {}): RecordingHeader {
  return {
    kind: 'header',
    format: 'stillprop-recording',
    version: 1,
    attemptId: '7b0f6a52-1d7e-4c1f-9a58-2f6a0c3e9d11',
    startedAt: '2026-01-31T09:30:00Z',
    station: 'Station 1',
    student: null,
    ...bundle,
    drawn: { kind: 'total', heightFt: 1000, powerFraction: 0, propeller: 'coarse', ...drawn },
    link: 'stand-in-json',
  };
}
