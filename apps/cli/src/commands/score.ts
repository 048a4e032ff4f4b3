// `stillprop score RECORDING`: the score of a recording, as a debrief to read or as JSON.
import { debriefText, scoreRecording } from '@stillprop/scoring';
import { readRecordingInput } from '../recordingInput.js';

export function score(path: string, options: { json?: boolean }): void {
  const recording = readRecordingInput(path);
  const result = scoreRecording(recording);
  process.stdout.write(options.json ? `${JSON.stringify(result, null, 2)}\n` : debriefText(result, recording.header));
}
