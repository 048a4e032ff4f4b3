// What reading and scoring a recording cost against only parsing its JSON.
import { readRecording } from '@stillprop/contracts';
import { scoreRecording } from '@stillprop/scoring';
import { type Ratio, timeRatio } from '../../.tools/sideBySide.js';
import { flownRecordingText } from '../support/flownRecording.js';

export default function recordingWork(): Ratio[] {
  const text = flownRecordingText();
  const parseOnly = () => {
    let lines = 0;
    for (const line of text.split('\n')) if (line !== '' && typeof JSON.parse(line) === 'object') lines += 1;
    return lines;
  };
  const read = () => {
    const result = readRecording(text);
    return result.ok ? result.recording.samples.length : Number.NaN;
  };
  const recording = readRecording(text);
  if (!recording.ok) throw new Error(recording.problem.message);
  return [
    {
      name: 'reading and checking a recording / parsing its JSON',
      ratio: timeRatio(read, parseOnly),
      goal: 3,
      better: 'lower',
    },
    {
      name: 'scoring a recording, the flights of its verdict included / parsing its JSON',
      ratio: timeRatio(() => scoreRecording(recording.recording).overall ?? Number.NaN, parseOnly),
      goal: 100,
      better: 'lower',
    },
  ];
}
