// Finds a Chromium for the browser tests, and installs Debian's where that can be done without asking anyone.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fail, say } from './workspace.mjs';

const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Chromium\\Application\\chrome.exe',
];

/** Path of a Chromium, from the variable CHROMIUM or a usual place. */
export function findChromium() {
  const named = process.env.CHROMIUM;
  if (named) return existsSync(named) ? named : fail(`CHROMIUM names ${named}, but there is no such file.`);
  return PLACES.find((path) => existsSync(path));
}

export function ensureChromium() {
  const found = findChromium();
  if (found) return found;
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    say('Installing Chromium for the browser tests (once) …');
    const apt = (...words) =>
      spawnSync('apt-get', words, {
        stdio: ['ignore', 'ignore', 2],
        env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      }).status === 0;
    if (apt('update', '-q') && apt('install', '-y', '-q', '--no-install-recommends', 'chromium', 'fonts-dejavu-core')) {
      const installed = findChromium();
      if (installed) return installed;
    }
  }
  return fail(
    'The browser tests need Chromium. Install it (on Debian or Ubuntu: sudo apt-get install chromium), ' +
      'or name one: CHROMIUM=/path/to/chromium npm test',
  );
}
