// What every root command needs before any package is installed: plain Node, nothing else.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';

/** Installs the lockfile's packages if that has not been done since the lockfile last changed. */
export function ensureInstalled() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    fail(`Stillprop needs Node 20.19 or newer; this is ${process.versions.node}. Get it from https://nodejs.org.`);
  }
  const installed = join(root, 'node_modules', '.package-lock.json');
  const lockfile = join(root, 'package-lock.json');
  if (existsSync(installed) && statSync(installed).mtimeMs >= statSync(lockfile).mtimeMs) return;
  say('Installing packages (once; a minute or two) …');
  const run = spawnSync(npm, ['ci', '--no-fund', '--no-audit', '--loglevel=error'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (run.status !== 0) {
    fail(
      'Installing failed. If the lines above are about better-sqlite3: it found no ready-made binary for this machine ' +
        'and needs python3, make and a C++ compiler to build one (on Debian: apt-get install python3 make g++).',
    );
  }
}

/** Runs Turborepo tasks; its telemetry stays off. Returns the exit code. */
export function turbo(...words) {
  const bin = join(root, 'node_modules', 'turbo', 'bin', 'turbo');
  const run = spawnSync(process.execPath, [bin, 'run', ...words], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    env: { ...process.env, TURBO_TELEMETRY_DISABLED: '1', DO_NOT_TRACK: '1', TURBO_NO_UPDATE_NOTIFIER: '1' },
  });
  return run.status ?? 1;
}

/** Builds what is not built yet; quick when nothing changed. */
export function ensureBuilt() {
  if (turbo('build', '--output-logs=errors-only', '--log-order=grouped') !== 0) fail('The build failed; see above.');
}

/** Folders of all workspaces that have a package.json, as turbo and npm see them. */
export function workspaceFolders() {
  const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'));
  return Object.keys(lock.packages)
    .filter((path) => path !== '' && !path.includes('node_modules'))
    .map((path) => join(root, path));
}

export function say(line) {
  process.stderr.write(`${line}\n`);
}

export function fail(line) {
  say(line);
  process.exit(1);
}
