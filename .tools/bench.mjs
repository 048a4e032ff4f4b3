// `npm run bench [-- --json]`: runs every benchmark, one after the other, and prints their ratios.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ensureInstalled, fail, turbo, workspaceFolders } from './workspace.mjs';

ensureInstalled();
const reports = workspaceFolders().map((folder) => join(folder, 'reports', 'bench.json'));
for (const report of reports) rmSync(report, { force: true });
const json = process.argv.includes('--json');
if (turbo('bench', '--concurrency=1', `--output-logs=${json ? 'errors-only' : 'new-only'}`) !== 0)
  fail('A benchmark failed; see above.');

const ratios = reports
  .filter((report) => existsSync(report))
  .flatMap((report) => JSON.parse(readFileSync(report, 'utf8')));
if (json) {
  process.stdout.write(`${JSON.stringify(ratios)}\n`);
} else {
  for (const { name, ratio, goal, better } of ratios) {
    const met = better === 'higher' ? ratio >= goal : ratio <= goal;
    process.stdout.write(
      `${met ? 'met   ' : 'missed'}  ${ratio.toFixed(2).padStart(8)}  (goal ${better === 'higher' ? '≥' : '≤'} ${goal})  ${name}\n`,
    );
  }
}
