// A recording that a person named.
import { type Recording, readRecording } from '@stillprop/contracts';
import { BadInput, readInput } from './badInput.js';

/** The recording in a file; `-` is standard input. @throws {BadInput} With one line that names file and fault. */
export function readRecordingInput(path: string): Recording {
  const read = readRecording(readInput(path));
  if (read.ok) return read.recording;
  const { field, message } = read.problem;
  throw new BadInput(`${path}: ${field === 'the recording' ? `this is not a recording: ${message}` : message}`);
}
