// Makes a folder and those above it. Not with `recursive`, which never returns where the system refuses as /proc does.
import { mkdirSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { BadInput } from './badInput.js';

/** @throws {BadInput} With one line that names the option, if there can be no such folder. */
export function makeFolder(path: string, option: string): void {
  try {
    make(resolve(path));
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? String(error);
    throw new BadInput(`${option} ${path} cannot be used: ${REASONS[code] ?? `the folder cannot be made (${code})`}`);
  }
}

const NO_PERMISSION = 'the system does not let you make that folder';
const REASONS: Readonly<Record<string, string>> = {
  EEXIST: 'there is a file, not a folder',
  EACCES: NO_PERMISSION,
  EPERM: NO_PERMISSION,
  ENOENT: NO_PERMISSION,
  EROFS: 'it lies on a disk that can only be read',
  ENOSPC: 'the disk is full',
};

function make(path: string): void {
  if (isFolder(path)) return;
  const above = dirname(path);
  if (above !== path) make(above);
  try {
    mkdirSync(path);
  } catch (error) {
    if (!isFolder(path)) throw error; // else another program made it in the same moment
  }
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}
