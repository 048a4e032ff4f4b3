// Every path that README.md and DEVELOPERS.md name exists, and every npm script they tell you to run.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('../', import.meta.url));
const scripts = Object.keys(
  (JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { scripts: object }).scripts,
);

test.each(['README.md', 'DEVELOPERS.md', 'fixtures/README.md'])('%s names only what exists', (name) => {
  const text = readFileSync(join(root, name), 'utf8');
  const links = [...text.matchAll(/\]\((?!https?:|#)([^)#\s]+)/g)].map((match) => match[1] as string);
  const paths = [...text.matchAll(/`((?:packages|apps|tests|fixtures|\.tools|\.ci)\/[\w./-]+)`/g)].map(
    (match) => match[1] as string,
  );
  const missing = [...links, ...paths].filter((path) => !existsSync(join(root, path.replace(/\/$/, ''))));
  expect(missing).toEqual([]);
});

test('the commands of README.md and DEVELOPERS.md are scripts of package.json', () => {
  const text = readFileSync(join(root, 'README.md'), 'utf8') + readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
  const named = [...text.matchAll(/npm (?:run )?(start|test|build|check|lint|format|bench)\b/g)].map(
    (match) => match[1] as string,
  );
  expect(named.length).toBeGreaterThan(4);
  expect(named.filter((script) => !scripts.includes(script))).toEqual([]);
});
