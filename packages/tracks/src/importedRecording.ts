// A track log's text made into the text of a recording, the same for the same input, with an id of its own.
import {
  type Parsed,
  problemOf,
  type Recording,
  RecordingHeader,
  recordingLine,
  type ScenarioBundle,
  type TrackMapping,
} from '@stillprop/contracts';
import { readTrack } from './readTrack.js';
import { recordingOfTrack } from './recordingOfTrack.js';
import type { TrackLog } from './trackLog.js';

export interface TrackImport {
  /** The log, of any format that is read. */
  readonly log: string;
  readonly bundle: ScenarioBundle;
  /** Columns of a CSV file. */
  readonly mapping?: TrackMapping | undefined;
  /** Loss of power: seconds from the log's first point, or a date and time; absent: at the highest point. */
  readonly failedAt?: string | undefined;
  /** Moment of the first point, ISO 8601, where the log has no date. */
  readonly startedAt?: string | undefined;
  readonly student: string | null;
}

export interface ImportedRecording {
  readonly attemptId: string;
  /** Newline-delimited JSON. */
  readonly text: string;
  /** What the log could not tell, one sentence each. */
  readonly notes: readonly string[];
}

/** Refuses in one sentence what cannot be used; its field is that of the import, or `the track log`. */
export async function importedRecording(input: TrackImport): Promise<Parsed<ImportedRecording>> {
  const { log, bundle, mapping, failedAt, startedAt, student } = input;
  const read = readTrack(log, mapping);
  if (!read.ok) return read;
  const failedAtS = failedAt === undefined ? undefined : secondsOf(failedAt, read.track);
  if (failedAtS === null) {
    const message = `failedAt must be seconds from the log's start, or a time like 2026-01-31T09:30:00Z in a log with a date, got "${failedAt}"`;
    return { ok: false, problem: { field: 'failedAt', message } };
  }
  const attemptId = await uuidOf([
    log,
    JSON.stringify(bundle),
    JSON.stringify(mapping ?? null),
    failedAt ?? '',
    startedAt ?? '',
    student ?? '',
  ]);
  const made = recordingOfTrack(read.track, bundle, {
    attemptId,
    station: 'import',
    student,
    ...(startedAt !== undefined && { startedAt }),
    ...(failedAtS !== undefined && { failedAtS }),
  });
  if (!made.ok) return made;
  const header = RecordingHeader.safeParse(made.value.header);
  if (!header.success) return { ok: false, problem: problemOf(header.error, made.value.header, 'the import') };
  return { ok: true, value: { attemptId, text: textOf(made.value), notes: header.data.imported?.notes ?? [] } };
}

/** Seconds of the log, as they are or from a date and time; null when it is neither. */
function secondsOf(text: string, { startedAt }: TrackLog): number | null {
  if (text.trim() !== '' && Number.isFinite(Number(text))) return Number(text);
  const ms = Date.parse(text);
  return startedAt === null || !Number.isFinite(ms) ? null : (ms - Date.parse(startedAt)) / 1000;
}

function textOf({ header, samples, events, end }: Recording): string {
  const lines = [
    recordingLine(header),
    ...samples.map((sample) => recordingLine({ kind: 'sample', ...sample })),
    ...events.map(recordingLine),
  ];
  if (end !== null) lines.push(recordingLine(end));
  return lines.join('');
}

/** The same inputs make the same id (UUID version 8, RFC 9562), so that a log handed over twice is one attempt. */
async function uuidOf(parts: readonly string[]): Promise<string> {
  const bytes = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(JSON.stringify(parts)));
  const hex = Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-a${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}
