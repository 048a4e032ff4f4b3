// Reads the text of a recording up to its last whole line, and writes single lines of one.
import { type Problem, problemOf } from './problem.js';
import {
  RECORDING_FORMAT,
  type RecordedEvent,
  type Recording,
  type RecordingEnd,
  RecordingHeader,
  RecordingLine,
} from './recording.js';
import type { Sample } from './sample.js';

/** No line of a recording is anywhere near this long (UTF-16 units); a longer one is refused before it is parsed. */
const LONGEST_LINE = 1024 * 1024;

export type ReadRecording =
  | { readonly ok: true; readonly recording: Recording }
  | { readonly ok: false; readonly problem: Problem };

/**
 * A recording from its text. What follows the last line feed was cut off by a crash and is left out.
 *
 * @returns The recording, or the first problem with the line it stands in; its field is `the recording` where the text
 *   is none at all. Nothing is repaired.
 */
export function readRecording(text: string): ReadRecording {
  let header: RecordingHeader | undefined;
  let end: RecordingEnd | null = null;
  const samples: Sample[] = [];
  const events: RecordedEvent[] = [];
  let number = 0;
  // Line by line: text that is nothing but line feeds would be more lines than an array holds.
  for (let from = 0, to = text.indexOf('\n'); to >= 0; from = to + 1, to = text.indexOf('\n', from)) {
    number += 1;
    const where = `line ${number}`;
    if (to - from > LONGEST_LINE) {
      return header === undefined ? noRecording(where) : refuse(where, 'is longer than a line can be');
    }
    const line = text.slice(from, to);
    if (line.trim() === '') continue;
    let data: unknown;
    try {
      data = JSON.parse(line);
    } catch {
      return header === undefined ? noRecording(where) : refuse(where, 'is not JSON');
    }
    if (header === undefined) {
      if ((data as { format?: unknown } | null)?.format !== RECORDING_FORMAT) {
        return noRecording(where);
      }
      const parsed = RecordingHeader.safeParse(data);
      if (!parsed.success) return refuse(where, problemOf(parsed.error, data, 'the line').message, ': ');
      header = parsed.data;
      continue;
    }
    if (end !== null) return refuse(where, 'comes after the end of the recording');
    const parsed = RecordingLine.safeParse(data);
    if (!parsed.success) return refuse(where, problemOf(parsed.error, data, 'the line').message, ': ');
    switch (parsed.data.kind) {
      case 'header':
        return refuse(where, 'is a second header');
      case 'sample': {
        const { kind: _, ...sample } = parsed.data;
        samples.push(sample);
        break;
      }
      case 'event':
        events.push(parsed.data);
        break;
      case 'end':
        end = parsed.data;
        break;
    }
  }
  if (header === undefined) return refuse('the recording', 'holds no whole line');
  return { ok: true, recording: { header, samples, events, end } };
}

/** One line of a recording, with its line feed. */
export function recordingLine(line: RecordingLine): string {
  return `${JSON.stringify(line)}\n`;
}

/** The text is something else, or nothing. */
function noRecording(where: string): ReadRecording {
  const message = `${where} is no header of a ${RECORDING_FORMAT}`;
  return { ok: false, problem: { field: 'the recording', message } };
}

function refuse(where: string, what: string, between = ' '): ReadRecording {
  return { ok: false, problem: { field: where, message: `${where}${between}${what}` } };
}
