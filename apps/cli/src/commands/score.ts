// `stillprop score RECORDING`: the score of a recording, as a debrief to read or as JSON.
import { readRecording } from '@stillprop/contracts';
import { debriefText, scoreRecording } from '@stillprop/scoring';
import { BadInput, readInput } from '../badInput.js';

export function score(path: string, options: { json?: boolean }): void {
  const read = readRecording(readInput(path));
  if (!read.ok) throw new BadInput(`${path}: ${read.problem.message}`);
  const result = scoreRecording(read.recording);
  process.stdout.write(
    options.json ? `${JSON.stringify(result, null, 2)}\n` : debriefText(result, read.recording.header),
  );
}
