// `stillprop import FILE`: a track log made into a recording, written to a file or handed to the debrief server.
import { createHash } from 'node:crypto';
import { existsSync, renameSync, writeFileSync } from 'node:fs';
import { type Recording, RecordingHeader, recordingLine, TrackMapping } from '@stillprop/contracts';
import { readTrack, recordingOfTrack, type TrackLog } from '@stillprop/tracks';
import { accept, BadInput, readInput, readJsonInput } from '../badInput.js';
import { scenarioOnShelf } from '../shelf.js';

const ANSWER_WITHIN_MS = 30_000;

interface ImportOptions {
  readonly scenario: string;
  readonly mapping?: string;
  readonly failedAt?: string;
  readonly startedAt?: string;
  readonly student?: string;
  readonly dataDir: string;
  readonly out?: string;
  readonly to?: string;
}

export async function importTrack(path: string, options: ImportOptions): Promise<void> {
  const { out, to, startedAt } = options;
  if (out === undefined && to === undefined) throw new BadInput('--out or --to must say where the recording goes');
  if (out !== undefined && existsSync(out)) throw new BadInput(`${out} is there already: name a new file`);
  const mapping = options.mapping === undefined ? undefined : readJsonInput(TrackMapping, options.mapping);
  const text = readInput(path);
  const read = readTrack(text, mapping);
  if (!read.ok) throw new BadInput(`${path}: ${read.problem.message}`);
  const bundle = scenarioOnShelf(options.scenario, options.dataDir);
  const attemptId = uuidOf([
    text,
    JSON.stringify(bundle),
    JSON.stringify(mapping ?? null),
    options.failedAt ?? '',
    startedAt ?? '',
    options.student ?? '',
  ]);
  const recording = accept(
    recordingOfTrack(read.track, bundle, {
      attemptId,
      station: 'import',
      student: options.student ?? null,
      ...(startedAt !== undefined && { startedAt }),
      ...(options.failedAt !== undefined && { failedAtS: secondsOf(options.failedAt, read.track) }),
    }),
  );
  const lines = textOf(recording);
  if (out !== undefined) {
    writeFileSync(`${out}.part`, lines);
    renameSync(`${out}.part`, out);
  }
  if (to !== undefined) await handOver(to, lines);
  for (const note of recording.header.imported?.notes ?? []) process.stderr.write(`${note}\n`);
  process.stdout.write(`${attemptId}\n`);
}

/** Seconds of the log, as they are or from a date and time. */
function secondsOf(text: string, { startedAt }: TrackLog): number {
  if (text.trim() !== '' && Number.isFinite(Number(text))) return Number(text);
  const ms = Date.parse(text);
  if (startedAt === null || !Number.isFinite(ms))
    throw new BadInput(
      `--failed-at must be seconds from the log's start, or a time like 2026-01-31T09:30:00Z in a log with a date, got "${text}"`,
    );
  return (ms - Date.parse(startedAt)) / 1000;
}

function textOf({ header, samples, events, end }: Recording): string {
  const parsed = RecordingHeader.safeParse(header);
  if (!parsed.success)
    throw new BadInput(`--started-at or --student cannot be used: ${parsed.error.issues[0]?.message}`);
  const lines = [
    recordingLine(header),
    ...samples.map((sample) => recordingLine({ kind: 'sample', ...sample })),
    ...events.map(recordingLine),
  ];
  if (end !== null) lines.push(recordingLine(end));
  return lines.join('');
}

/** As the outbox does: with the hash, and the receipt must be of these bytes. */
async function handOver(to: string, text: string): Promise<void> {
  const sha256 = createHash('sha256').update(text).digest('hex');
  let answer: Response;
  try {
    answer = await fetch(new URL('/api/recordings', to), {
      method: 'POST',
      headers: { 'content-type': 'application/x-ndjson', 'x-content-sha256': sha256 },
      body: text,
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    });
  } catch {
    throw new BadInput(`--to: no debrief server answers at ${to}`);
  }
  const said = (await answer.json().catch(() => ({}))) as { message?: string; sha256?: string };
  if (!answer.ok) throw new BadInput(`--to: the server refused the recording: ${said.message ?? answer.status}`);
  if (said.sha256 !== sha256) throw new BadInput('--to: the server acknowledged other bytes than were sent');
}

/** The same inputs make the same id (UUID version 8, RFC 9562), so that a log handed over twice is one attempt. */
function uuidOf(parts: readonly string[]): string {
  const hex = createHash('sha256').update(JSON.stringify(parts)).digest('hex');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-a${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}
