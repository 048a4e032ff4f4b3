// A capture that a person named, read whole or refused in one line.
import { type Capture, readCapture } from '@stillprop/contracts';
import { BadInput, readInput } from './badInput.js';

/** @throws {BadInput} */
export function readCaptureInput(path: string): Capture {
  const read = readCapture(readInput(path));
  if (read.ok) return read.capture;
  throw new BadInput(`${path === '-' ? 'the input' : path}: ${read.problem.message}`);
}
