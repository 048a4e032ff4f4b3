// Runs the built command `stillprop` as a user would, and collects what it says.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const BIN = join(ROOT, 'apps/cli/bin/stillprop.mjs');

export interface Finished {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the command to its end; one that has none is killed after `giveUpMs`, and its code is then null. */
export async function stillprop(words: readonly string[], input = '', giveUpMs?: number): Promise<Finished> {
  const child = spawn(process.execPath, [BIN, ...words], { stdio: ['pipe', 'pipe', 'pipe'] });
  child.stdin.end(input);
  const killer = giveUpMs === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), giveUpMs);
  const end = await finished(child);
  clearTimeout(killer);
  return end;
}

export function finished(child: ChildProcess): Promise<Finished> {
  let out = '';
  let err = '';
  child.stdout?.on('data', (chunk: Buffer) => {
    out += chunk.toString();
  });
  child.stderr?.on('data', (chunk: Buffer) => {
    err += chunk.toString();
  });
  return new Promise((resolve) => child.once('close', (code) => resolve({ code, out, err })));
}

export interface Started {
  readonly url: string;
  readonly process: ChildProcess;
}

/** Runs `stillprop start --bench` on a free port while `use` runs, and ends it as Ctrl+C would. */
export async function withStillprop(dir: string, use: (started: Started) => Promise<void>): Promise<void> {
  const child = spawn(process.execPath, [BIN, 'start', '--bench', '--port', '0', '--data', dir], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let err = '';
  child.stderr.on('data', (chunk: Buffer) => {
    err += chunk.toString();
  });
  const gone = new Promise<number | null>((resolve) => child.once('exit', resolve));
  try {
    const url = await new Promise<string>((resolve, reject) => {
      let out = '';
      child.stdout.on('data', (chunk: Buffer) => {
        out += chunk.toString();
        const found = /ready:\s+(http:\S+)/.exec(out)?.[1];
        if (found) resolve(found);
      });
      gone.then((code) => reject(new Error(`start ended (${code}): ${err}`)));
    });
    await use({ url, process: child });
  } finally {
    child.kill('SIGTERM');
    await gone;
  }
  if (child.exitCode !== 0) throw new Error(`start ended with ${child.exitCode}: ${err}`);
}

/** Runs `stillprop start` until its output holds `pattern`, and ends it as Ctrl+C would. @returns Its output. */
export async function startedWith(words: readonly string[], pattern: RegExp): Promise<string> {
  const child = spawn(process.execPath, [BIN, 'start', ...words], { stdio: ['ignore', 'pipe', 'pipe'] });
  const end = finished(child);
  let out = '';
  child.stdout.on('data', (chunk: Buffer) => {
    out += chunk.toString();
    if (pattern.test(out)) child.kill('SIGTERM');
  });
  const killer = setTimeout(() => child.kill('SIGTERM'), 20_000);
  await end;
  clearTimeout(killer);
  return out;
}

/** A folder that is gone after `use`. */
export async function inTemporaryFolder<T>(use: (dir: string) => Promise<T>): Promise<T> {
  const dir = mkdtempSync(join(tmpdir(), 'stillprop-test-'));
  try {
    return await use(dir);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

/** Waits until `attempt` gives something, or throws with what it waited for. */
export async function until<T>(
  what: string,
  withinMs: number,
  attempt: () => Promise<T | undefined> | T | undefined,
): Promise<T> {
  const giveUpAt = Date.now() + withinMs;
  for (;;) {
    const value = await attempt();
    if (value !== undefined) return value;
    if (Date.now() > giveUpAt) throw new Error(`waited ${withinMs} ms in vain for ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}
