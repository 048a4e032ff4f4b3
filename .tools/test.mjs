// `npm test`: installs what is needed, checks types and style, runs every test, and counts from the runner's own reports.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ensureChromium } from './chromium.mjs';
import { ensureInstalled, root, say, turbo, workspaceFolders } from './workspace.mjs';

ensureInstalled();
process.env.CHROMIUM = ensureChromium();

// A report left by an earlier run must not be counted; turbo puts back those of tests it need not run again.
const reports = workspaceFolders().map((folder) => join(folder, 'reports', 'tests.json'));
// Of the tests that cross packages only some wait for real time (tests/lanes.ts); the others report apart.
reports.push(join(root, 'tests', 'reports', 'beside.json'));
for (const report of reports) rmSync(report, { force: true });

const exitCode = turbo(
  'check',
  '//#lint',
  'test',
  'test:beside',
  '--continue',
  '--concurrency=2',
  '--output-logs=new-only',
  '--log-order=grouped',
);

let passed = 0;
let failed = 0;
for (const report of reports) {
  if (!existsSync(report)) {
    say(`No test report at ${report}: its tests did not run to the end.`);
    failed += 1;
    continue;
  }
  const counts = JSON.parse(readFileSync(report, 'utf8'));
  for (const file of counts.testResults) tellFailures(file);
  passed += counts.numPassedTests;
  // A file that could not be loaded counts no test of its own.
  failed += counts.numFailedTests;
  if (counts.success === false && counts.numFailedTests === 0) failed += counts.numFailedTestSuites || 1;
}
if (exitCode !== 0 && failed === 0) say('Types or style are not in order; see above.');
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exitCode = exitCode !== 0 || failed > 0 || passed === 0 ? 1 : 0;

/** Once more at the end, where a reader of a long log looks first. */
function tellFailures({ name, message, assertionResults }) {
  if (message !== '') say(`FAILED ${name}: ${message}`);
  for (const { status, fullName, failureMessages } of assertionResults)
    if (status === 'failed') say(`FAILED ${name}: ${fullName}\n${failureMessages.join('\n').slice(0, 4000)}`);
}
