// `npm run fuzz`: every package's tests with property cases never tried before; the seed is printed, to try them again.
// Then the bridge is killed more often than an ordinary run does.
import { spawnSync } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { join } from 'node:path';
import { ensureBuilt, ensureInstalled, root, say, turbo } from './workspace.mjs';

ensureInstalled();
const seed = process.env.PROPERTY_SEED ?? String(randomInt(2 ** 31));
process.env.PROPERTY_SEED = seed;
// Damaged datagrams for each decoder; an ordinary run tries a tenth.
process.env.MUTATED_DATAGRAMS ??= '1000000';
say(`Property tests with seed ${seed}. To try the same cases again: PROPERTY_SEED=${seed} npm run fuzz`);
let code = turbo('test', '--filter=./packages/*', '--filter=./apps/*', '--continue', '--concurrency=2');
ensureBuilt();
const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs');
const kills = spawnSync(process.execPath, [vitest, 'run', '--root', 'tests', 'faults/killedOften.test.ts'], {
  cwd: root,
  stdio: ['ignore', 2, 2],
  env: { ...process.env, BRIDGE_KILLS: '200' },
});
if (code === 0) code = kills.status ?? 1;
process.exitCode = code;
