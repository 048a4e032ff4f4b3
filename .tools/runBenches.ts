// Runs the benchmarks of one workspace: every *.bench.ts below this folder, whose default export gives its ratios.
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Ratio } from './sideBySide.js';

function benchesIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return ['node_modules', 'dist', 'reports'].includes(entry.name) ? [] : benchesIn(path);
    return entry.name.endsWith('.bench.ts') ? [path] : [];
  });
}

const ratios: Ratio[] = [];
for (const path of benchesIn(process.cwd()).sort()) {
  const bench = (await import(pathToFileURL(path).href)) as { default: () => Ratio[] | Promise<Ratio[]> };
  ratios.push(...(await bench.default()));
}
if (ratios.length === 0) throw new Error(`no benchmark below ${process.cwd()}`);
mkdirSync('reports', { recursive: true });
writeFileSync('reports/bench.json', JSON.stringify(ratios));
