// `stillprop import FILE`: a track log made into a recording, written to a file or handed to the debrief server.
import { createHash } from 'node:crypto';
import { existsSync, renameSync, writeFileSync } from 'node:fs';
import { type Problem, TrackMapping } from '@stillprop/contracts';
import { importedRecording } from '@stillprop/tracks';
import { BadInput, readInput, readJsonInput } from '../badInput.js';
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
  const log = readInput(path);
  const made = await importedRecording({
    log,
    bundle: scenarioOnShelf(options.scenario, options.dataDir),
    mapping,
    failedAt: options.failedAt,
    startedAt,
    student: options.student ?? null,
  });
  if (!made.ok) throw new BadInput(inOptions(path, made.problem));
  const { attemptId, text: lines, notes } = made.value;
  if (out !== undefined) {
    writeFileSync(`${out}.part`, lines);
    renameSync(`${out}.part`, out);
  }
  if (to !== undefined) await handOver(to, lines);
  for (const note of notes) process.stderr.write(`${note}\n`);
  process.stdout.write(`${attemptId}\n`);
}

/** A refusal with the name of the option, or of the file, to which it belongs. */
function inOptions(path: string, { field, message }: Problem): string {
  if (field === 'the track log') return `${path}: ${message}`;
  const option = { failedAt: '--failed-at', failedAtS: '--failed-at', startedAt: '--started-at', student: '--student' }[
    field
  ];
  return option === undefined ? message : message.replace(field, option);
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
