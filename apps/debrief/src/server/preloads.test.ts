import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { preloads } from './preloads.js';

const ID = '7f1f2f57-2c3d-4a55-9c11-000000000001';
const dir = mkdtempSync(join(tmpdir(), 'stillprop-preloads-'));
mkdirSync(join(dir, '.vite'));
writeFileSync(
  join(dir, '.vite/manifest.json'),
  JSON.stringify({
    'pages/attemptPage.ts': { file: 'assets/attempt.js', imports: ['_charts.js', '_words.js'], isDynamicEntry: true },
    '_charts.js': { file: 'assets/charts.js', imports: ['_words.js'] },
    '_words.js': { file: 'assets/words.js', imports: ['_charts.js'] },
    'pages/flyPage.ts': { file: 'assets/fly.js' },
  }),
);
afterAll(() => rmSync(dir, { recursive: true }));

test('a debrief names its scripts, each once, and the two answers about its attempt', () => {
  expect(preloads(dir)('/debrief/:id', ID)?.split(', ')).toEqual([
    '</assets/attempt.js>; rel=modulepreload',
    '</assets/charts.js>; rel=modulepreload',
    '</assets/words.js>; rel=modulepreload',
    `</api/attempts/${ID}>; rel=preload; as=fetch; crossorigin=anonymous`,
    `</api/attempts/${ID}/trace?maxPoints=60000>; rel=preload; as=fetch; crossorigin=anonymous`,
  ]);
  expect(preloads(dir)('/fly')).toBe('</assets/fly.js>; rel=modulepreload');
});

test.each(['nonsense', 'a>; rel=evil', `${ID}\r\nset-cookie: x`])('an id that is none names no answers: %j', (id) => {
  expect(preloads(dir)('/debrief/:id', id)).not.toContain('/api/');
});

test('without a list of what was built only the answers are named', () => {
  expect(preloads(tmpdir())('/link')).toBeUndefined();
  expect(preloads(tmpdir())('/debrief/:id', ID)).not.toContain('modulepreload');
});
