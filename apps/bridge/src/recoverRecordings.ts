// Recordings that a crash left open: cut to the last whole line, ended as interrupted, moved to the outbox.
import { open, readdir, readFile, truncate, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { RecordingLine, recordingLine } from '@stillprop/contracts';
import { type Folders, moveFile } from './folders.js';

const TEXT = 'The bridge broke off; the recording holds all up to its last whole line.';

/** Puts every recording left open into the outbox; what is no recording goes to `refused`. @returns Lines for the log. */
export async function recoverRecordings(folders: Folders): Promise<string[]> {
  const said: string[] = [];
  for (const name of (await readdir(folders.recordings)).sort()) {
    if (name.endsWith('.ndjson')) said.push(await recovered(join(folders.recordings, name), folders));
  }
  return said;
}

async function recovered(path: string, folders: Folders): Promise<string> {
  const name = basename(path);
  const bytes = await readFile(path);
  const whole = wholeLines(bytes);
  if (whole.keptBytes === 0) {
    await moveFile(path, join(folders.refused, name));
    await writeFile(join(folders.refused, `${name}.reason.txt`), 'The file holds no whole line of a recording.\n');
    return `${name}: no whole line, moved to refused`;
  }
  if (whole.keptBytes < bytes.length) {
    const rest = bytes.subarray(whole.keptBytes);
    // Half a line is of no use; whole lines behind a broken one are kept beside, for a person to look at.
    if (rest.includes(0x0a)) await writeFile(join(folders.refused, `${name}.rest`), rest);
    await truncate(path, whole.keptBytes);
  }
  const handle = await open(path, 'a');
  try {
    if (!whole.ended) {
      const { timeS, samples } = whole;
      await handle.appendFile(recordingLine({ kind: 'end', timeS, reason: 'interrupted', text: TEXT, samples }));
    }
    await handle.sync();
  } finally {
    await handle.close();
  }
  await moveFile(path, join(folders.outbox, name));
  return `${name}: ${whole.samples} samples recovered`;
}

interface WholeLines {
  readonly keptBytes: number;
  readonly samples: number;
  readonly timeS: number | null;
  readonly ended: boolean;
}

/** How far the file reads as a recording: header first, every line whole and right, nothing after an end line. */
function wholeLines(bytes: Buffer): WholeLines {
  let keptBytes = 0;
  let samples = 0;
  let timeS: number | null = null;
  let ended = false;
  while (!ended) {
    const feed = bytes.indexOf(0x0a, keptBytes);
    if (feed < 0) break;
    const line = lineOf(bytes.subarray(keptBytes, feed));
    if (line === null || (line.kind === 'header') !== (keptBytes === 0)) break;
    if (line.kind === 'sample') {
      samples += 1;
      timeS = line.timeS;
    }
    ended = line.kind === 'end';
    keptBytes = feed + 1;
  }
  return { keptBytes, samples, timeS, ended };
}

function lineOf(bytes: Buffer): RecordingLine | null {
  try {
    const parsed = RecordingLine.safeParse(JSON.parse(bytes.toString('utf8')));
    return parsed.success ? parsed.data : null;
  } catch {
    return null;
  }
}
