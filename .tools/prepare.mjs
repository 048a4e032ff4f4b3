// `node .tools/prepare.mjs [TURBO TASKS]`: installs if needed, then runs the tasks, or builds when none is named.
import { ensureBuilt, ensureInstalled, turbo } from './workspace.mjs';

ensureInstalled();
const tasks = process.argv.slice(2);
if (tasks.length === 0) ensureBuilt();
else process.exitCode = turbo(...tasks);
