// Holds every import and every package.json against the one table of who may import whom.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('../', import.meta.url));

interface Rule {
  /** Own packages it may import, by short name. */
  readonly own: readonly string[];
  /** Packages from the registry its shipped code may import. */
  readonly registry: readonly string[];
  /** May it use Node's built-in modules? */
  readonly node: boolean;
}

const TABLE: Record<string, Rule> = {
  'packages/physics': { own: [], registry: [], node: false },
  'packages/contracts': { own: ['physics'], registry: ['zod', 'geographiclib-geodesic'], node: false },
  'packages/links': { own: ['contracts', 'physics'], registry: [], node: false },
  'packages/exercise': { own: ['contracts', 'physics'], registry: [], node: false },
  'packages/scoring': { own: ['contracts', 'physics'], registry: [], node: false },
  'packages/glidefit': {
    own: ['contracts', 'physics'],
    registry: ['ml-levenberg-marquardt', 'ml-matrix'],
    node: false,
  },
  'packages/tracks': { own: ['contracts', 'links'], registry: ['fast-xml-parser', 'papaparse'], node: false },
  'packages/store': { own: ['contracts'], registry: ['kysely', 'better-sqlite3'], node: true },
  'packages/charts': { own: ['contracts', 'physics'], registry: ['lit', 'uplot'], node: false },
  'apps/bridge': { own: ['contracts', 'links', 'exercise'], registry: ['ws'], node: true },
  'apps/bench': { own: ['contracts', 'links', 'physics'], registry: [], node: true },
  'apps/debrief/src/server': {
    own: ['contracts', 'store', 'scoring', 'physics', 'tracks'],
    registry: ['fastify', '@fastify/static', '@fastify/swagger', '@fastify/websocket', 'csv-stringify', 'ws', 'zod'],
    node: true,
  },
  'apps/debrief/src/web': {
    own: ['contracts', 'charts', 'links', 'scoring', 'physics'],
    registry: ['lit', 'uplot', '@fontsource-variable/public-sans', '@fontsource-variable/newsreader', 'zod'],
    node: false,
  },
  'apps/cli': {
    own: ['contracts', 'links', 'physics', 'scoring', 'glidefit', 'tracks', 'bridge', 'debrief', 'bench'],
    registry: ['commander', 'piscina', 'zod'],
    node: true,
  },
};

/** Type-only imports of physics are all that these may have. */
const TYPES_ONLY = new Map([
  ['packages/contracts', ['physics']],
  ['packages/charts', ['physics']],
]);

const IMPORT =
  /(?:^|\n)\s*(?:import|export)\s+(type\s)?[^'"`;]*?from\s+['"]([^'"]+)['"]|(?:^|\n)\s*import\s+['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]\s*\)/g;

interface Import {
  readonly file: string;
  readonly name: string;
  readonly typeOnly: boolean;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (name === 'node_modules' || name === 'dist') return [];
    return statSync(path).isDirectory() ? sourceFiles(path) : /\.(ts|mts)$/.test(name) ? [path] : [];
  });
}

const isTest = (path: string) => /\.(test|bench|fixture|browser)\.ts$/.test(path);

function importsOf(path: string): Import[] {
  return [...readFileSync(path, 'utf8').matchAll(IMPORT)].map((match) => ({
    file: relative(root, path),
    name: (match[2] ?? match[3] ?? match[4]) as string,
    typeOnly: match[1] !== undefined,
  }));
}

const packageOf = (name: string) =>
  (name.startsWith('@') ? name.split('/').slice(0, 2).join('/') : name.split('/')[0]) as string;

test.each(Object.entries(TABLE))('%s imports only what it may', (folder, rule) => {
  const files = sourceFiles(join(root, folder, folder.includes('/src/') ? '' : 'src')).filter((path) => !isTest(path));
  expect(files.length, `${folder} has source files`).toBeGreaterThan(0);
  const broken: string[] = [];
  for (const found of files.flatMap(importsOf)) {
    const { file, name } = found;
    const say = (why: string) => broken.push(`${file}: ${name} ${why}`);
    if (name.startsWith('.')) {
      const target = join(file, '..', name);
      if (!target.startsWith(`${folder}/`)) say('leaves its own folder');
      if (!/\.(js|json|css)(\?\w+)?$/.test(name)) say('has no ending');
    } else if (name.startsWith('node:')) {
      if (!rule.node) say('is not to be had in a browser');
    } else if (name.startsWith('@stillprop/')) {
      const short = name.slice('@stillprop/'.length);
      if (short.includes('/')) say('reaches past the exports of a package');
      if (!rule.own.includes(short)) say('is not in the import table');
      if (TYPES_ONLY.get(folder)?.includes(short) && !found.typeOnly) say('may be imported for its types only');
    } else if (!rule.registry.includes(packageOf(name))) {
      say('is not in the import table');
    }
  }
  expect(broken).toEqual([]);
});

test('every workspace that ships code stands in the table', () => {
  const folders = ['packages', 'apps'].flatMap((kind) =>
    readdirSync(join(root, kind)).map((name) => `${kind}/${name}`),
  );
  for (const folder of folders) {
    expect(
      Object.keys(TABLE).some((key) => key === folder || key.startsWith(`${folder}/`)),
      folder,
    ).toBe(true);
  }
});

test.each([...new Set(Object.keys(TABLE).map((folder) => folder.split('/').slice(0, 2).join('/')))])(
  '%s lists in package.json exactly what its code imports',
  (folder) => {
    const manifest = JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8')) as {
      dependencies?: Record<string, string>;
    };
    const used = new Set(
      sourceFiles(join(root, folder, 'src'))
        .filter((path) => !isTest(path))
        .flatMap(importsOf)
        .map((found) => found.name)
        .filter((name) => !name.startsWith('.') && !name.startsWith('node:'))
        .map(packageOf),
    );
    expect(Object.keys(manifest.dependencies ?? {}).sort()).toEqual([...used].sort());
  },
);

test('the top level holds what it should and nothing else', () => {
  const allowed = [
    'README.md',
    'DEVELOPERS.md',
    'package.json',
    'turbo.json',
    'tsconfig.base.json',
    'packages',
    'apps',
    'fixtures',
    'tests',
    'package-lock.json',
    'LICENSE',
    'biome.json',
    'node_modules',
  ];
  const extra = readdirSync(root).filter((name) => !name.startsWith('.') && !allowed.includes(name));
  expect(extra).toEqual([]);
});

test('every source file says in its first line what it does', () => {
  const folders = [...['packages', 'apps'].map((kind) => join(root, kind)), join(root, 'tests'), join(root, '.tools')];
  const files = folders
    .flatMap((folder) => sourceFiles(folder))
    .filter(
      (path) =>
        /\/(src|tests|\.tools)\//.test(path) && !/\.(test|bench)\.ts$/.test(path) && !path.endsWith('vitest.config.ts'),
    );
  expect(files.length).toBeGreaterThan(50);
  const silent = files.filter((path) => !/^(#!.*\n)?(\/\/|\/\*)/.test(readFileSync(path, 'utf8')));
  expect(silent.map((path) => relative(root, path))).toEqual([]);
});
