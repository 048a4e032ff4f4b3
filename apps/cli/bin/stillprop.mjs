#!/usr/bin/env node
// Starts the command from its build, and makes the build first where a fresh clone has none yet.
import { existsSync } from 'node:fs';

const main = new URL('../dist/main.js', import.meta.url);
if (!existsSync(main)) {
  const { ensureBuilt, ensureInstalled, say } = await import('../../../.tools/workspace.mjs');
  ensureInstalled();
  say('Building Stillprop (once) …');
  ensureBuilt();
}
await import(main.href);
