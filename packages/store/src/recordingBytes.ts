// Looks at a recording as bytes: its hash, what it says, and whether one goes on where another broke off.
import { createHash } from 'node:crypto';
import { type ReadRecording, type Recording, readRecording } from '@stillprop/contracts';

const LINE_FEED = 10;

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** A recording from UTF-8 bytes; what a crash cut off after the last line feed is left out. */
export function recordingFromBytes(bytes: Uint8Array): ReadRecording {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(wholeLines(bytes));
  } catch {
    return { ok: false, problem: { field: 'the recording', message: 'the recording must be UTF-8 text' } };
  }
  return readRecording(text);
}

/** Whether the attempt was recorded to its end, rather than broken off and closed later by a restart. */
export function isComplete(recording: Recording): boolean {
  return recording.end !== null && recording.end.reason !== 'interrupted';
}

/** Whether `next` holds every line of the broken-off `stored` (but for its end line), and more. */
export function goesOn(stored: Uint8Array, next: Uint8Array): boolean {
  const read = recordingFromBytes(stored);
  if (!read.ok || isComplete(read.recording)) return false;
  const whole = wholeLines(stored);
  const kept = read.recording.end === null ? whole : withoutLastLine(whole);
  const offered = wholeLines(next);
  return offered.length > kept.length && Buffer.compare(offered.subarray(0, kept.length), kept) === 0;
}

function wholeLines(bytes: Uint8Array): Uint8Array {
  return bytes.subarray(0, bytes.lastIndexOf(LINE_FEED) + 1);
}

/** Without the last line that says something: blank lines may follow it. */
function withoutLastLine(whole: Uint8Array): Uint8Array {
  let end = whole.length;
  while (end > 0 && [LINE_FEED, 13, 32, 9].includes(whole[end - 1] as number)) end -= 1;
  return whole.subarray(0, whole.lastIndexOf(LINE_FEED, end - 1) + 1);
}
