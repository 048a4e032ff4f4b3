// The one way a command refuses what it was given: a clear line on stderr and exit code 2.

import { readFileSync, statSync } from 'node:fs';
import { type Parsed, type Problem, parseJson } from '@stillprop/contracts';
import type { z } from 'zod';

const MAX_INPUT_BYTES = 256 * 1024 * 1024;

/** Thrown by commands for input that cannot be used; `message` is the one line shown. */
export class BadInput extends Error {}

export function refuse(problem: Problem): never {
  throw new BadInput(problem.message);
}

/** The value, or a refusal of it. */
export function accept<T>(parsed: Parsed<T>): T {
  return parsed.ok ? parsed.value : refuse(parsed.problem);
}

/** Text of a file that a person named; `-` is standard input. */
export function readInput(path: string): string {
  try {
    if (path === '-') return readFileSync(0, 'utf8');
    const stat = statSync(path);
    if (stat.isDirectory()) throw new BadInput(`${path} is a folder, not a file`);
    if (stat.size > MAX_INPUT_BYTES) throw new BadInput(`${path} is larger than 256 MB`);
    return readFileSync(path, 'utf8');
  } catch (error) {
    if (error instanceof BadInput) throw error;
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT') throw new BadInput(`${path}: there is no such file`);
    throw new BadInput(`${path} cannot be read (${code ?? String(error)})`);
  }
}

/** A JSON file that a person named, as typed data; a refusal names the file beside the field. */
export function readJsonInput<T extends z.ZodType>(schema: T, path: string): z.output<T> {
  const whole = path === '-' ? 'the input' : path;
  const parsed = parseJson(schema, readInput(path), whole);
  if (parsed.ok) return parsed.value;
  const { message } = parsed.problem;
  throw new BadInput(path === '-' || message.includes(whole) ? message : `${path}: ${message}`);
}

/** A number that a person typed as an option. */
export function numberOption(name: string, text: string, lowest: number, highest: number, whole = false): number {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (!(value >= lowest && value <= highest) || (whole && !Number.isInteger(value))) {
    throw new BadInput(`${name} must be a ${whole ? 'whole ' : ''}number from ${lowest} to ${highest}, got "${text}"`);
  }
  return value;
}
