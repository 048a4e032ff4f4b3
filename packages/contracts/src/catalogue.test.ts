// Every file on the shelf that ships is right, and every scenario finds what it names.
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import {
  bundleOf,
  CATALOGUE_FOLDERS,
  type CatalogueFile,
  catalogueFromFiles,
  FlyRequest,
  LinkProfile,
  parseJson,
  ScenarioBundle,
} from './index.js';

const fixtures = new URL('../../../fixtures/', import.meta.url);
const idsIn = (folder: string) =>
  readdirSync(new URL(`${folder}/`, fixtures))
    .filter((name) => name.endsWith('.json'))
    .map((name) => name.replace(/\.json$/, ''));
const textOf = (folder: string, id: string) => readFileSync(new URL(`${folder}/${id}.json`, fixtures), 'utf8');
const files: CatalogueFile[] = CATALOGUE_FOLDERS.flatMap((folder) =>
  idsIn(folder).map((id) => ({ folder, id, text: textOf(folder, id) })),
);

test('every shelf holds something, and every file of it is right', () => {
  for (const folder of CATALOGUE_FOLDERS)
    expect(files.filter((file) => file.folder === folder).length, folder).toBeGreaterThan(0);
  const parsed = catalogueFromFiles(files);
  expect(parsed.ok ? '' : parsed.problem.message).toBe('');
});

test.each(idsIn('scenarios'))('scenario %s finds all it names, and its id is its file name', (id) => {
  const catalogue = catalogueFromFiles(files);
  if (!catalogue.ok) throw new Error(catalogue.problem.message);
  const bundle = bundleOf(catalogue.value, id);
  expect(bundle.ok ? '' : bundle.problem.message).toBe('');
  expect(bundle.ok && bundle.value.scenario.id).toBe(id);
  expect(bundle.ok && ScenarioBundle.safeParse(bundle.value).success).toBe(true);
});

test.each(idsIn('links'))('link profile %s is right, and its id is its file name', (id) => {
  const parsed = parseJson(LinkProfile, textOf('links', id), id);
  expect(parsed.ok ? parsed.value.id : parsed.problem.message).toBe(id);
});

test.each(idsIn('requests'))('request %s is right', (id) => {
  const parsed = parseJson(FlyRequest, textOf('requests', id), id);
  expect(parsed.ok ? '' : parsed.problem.message).toBe('');
});

test('a name that is on no shelf is refused with the names that are', () => {
  const catalogue = catalogueFromFiles(files.filter((file) => file.folder !== 'weather'));
  if (!catalogue.ok) throw new Error(catalogue.problem.message);
  const bundle = bundleOf(catalogue.value, 'first-turn-back');
  expect(bundle.ok ? '' : bundle.problem.message).toBe('weatherId must be one of , got "light-headwind"');
});
