// Runs bridge, debrief and stand-in as processes of their own, so that none can take another down with it.
import { type ChildProcess, fork } from 'node:child_process';
import { BadInput } from './badInput.js';
import { BIN_PATH } from './places.js';

export type PartName = 'debrief' | 'bridge' | 'bench';

/** What a part tells its parent: ready with its figures, or why it cannot start. */
export type PartMessage =
  | { readonly type: 'ready'; readonly details: Readonly<Record<string, string | number>> }
  | { readonly type: 'refused'; readonly message: string };

export interface Part {
  readonly process: ChildProcess;
  readonly details: Readonly<Record<string, string | number>>;
}

/** The part refused what it was given; `message` is one line for the person. */
export class PartRefused extends BadInput {}

/**
 * Starts a part and resolves when it is ready. Its log lines go to stderr when `loud`.
 *
 * @throws {PartRefused} If it says why it cannot start. @throws {Error} If it ends without a word.
 */
export function startPart(name: PartName, words: readonly string[], loud: boolean): Promise<Part> {
  const child = fork(BIN_PATH, ['part', name, ...words], { stdio: ['ignore', 'ignore', loud ? 2 : 'pipe', 'ipc'] });
  let told = '';
  child.stderr?.on('data', (chunk: Buffer) => {
    told = (told + chunk.toString()).slice(-2000);
  });
  return new Promise((resolve, reject) => {
    child.once('message', (message: PartMessage) => {
      if (message.type === 'ready') resolve({ process: child, details: message.details });
      else reject(new PartRefused(message.message));
    });
    child.once('exit', (code) =>
      reject(new Error(`the ${name} ended at its start (code ${code}). ${told.trim()}`.trim())),
    );
  });
}

/** Ends a part in order: it closes its files first. It is killed only if it does not end within five seconds. */
export function stopPart(part: Part): Promise<void> {
  const child = part.process;
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    const killer = setTimeout(() => child.kill('SIGKILL'), 5000);
    child.once('exit', () => {
      clearTimeout(killer);
      resolve();
    });
    child.kill('SIGTERM');
  });
}
