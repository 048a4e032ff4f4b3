// `npm start`: installs and builds if needed, then starts bridge, debrief and the stand-in simulator.
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { ensureBuilt, ensureInstalled, root, say } from './workspace.mjs';

ensureInstalled();
say('Building what has changed …');
ensureBuilt();
const child = spawn(
  process.execPath,
  [join(root, 'apps/cli/bin/stillprop.mjs'), 'start', '--bench', ...process.argv.slice(2)],
  {
    stdio: 'inherit',
  },
);
// Ctrl+C reaches the child by itself too; being told twice does it no harm. It closes its files before it ends.
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => child.kill(signal));
child.on('exit', (code) => process.exit(code ?? 1));
