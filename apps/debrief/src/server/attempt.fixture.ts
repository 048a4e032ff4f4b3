// Recordings, a scoring and an app for tests. All invented; the scoring is a stand-in that says what it was given.
import { createHash } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  bundleOf,
  type Criterion,
  type Recording,
  type RecordingHeader,
  type RecordingLine,
  recordingLine,
  type Score,
  type Trace,
} from '@stillprop/contracts';
import { openStore } from '@stillprop/store';
import { afterAll } from 'vitest';
import { type AppDeps, buildApp } from './buildApp.js';
import { readCatalogue } from './catalogueFiles.js';
import type { Scoring } from './scoringDesk.js';

export const SHELF = fileURLToPath(new URL('../../../../fixtures', import.meta.url));
export const catalogue = readCatalogue([SHELF]);

export interface RecordingChoices {
  readonly attemptId: string;
  readonly startedAt?: string;
  readonly student?: string | null;
  readonly samples?: number;
  /** null: no end line. */
  readonly end?: 'stopped' | 'interrupted' | null;
}

export function recordingText(choices: RecordingChoices): string {
  const {
    attemptId,
    startedAt = '2026-03-01T10:00:00Z',
    student = 'Ines Vale',
    samples = 5,
    end = 'stopped',
  } = choices;
  const bundle = bundleOf(catalogue, 'first-turn-back');
  if (!bundle.ok) throw new Error(bundle.problem.message);
  const header: RecordingHeader = {
    kind: 'header',
    format: 'stillprop-recording',
    version: 1,
    attemptId,
    startedAt,
    station: 'desk',
    student,
    ...bundle.value,
    drawn: { kind: 'total', heightFt: 1000, powerFraction: 0, propeller: 'coarse' },
    link: 'stand-in-json',
  };
  const lines: RecordingLine[] = [header, { kind: 'event', timeS: null, code: 'armed', text: 'Armed.' }];
  for (let index = 0; index < samples; index += 1) {
    lines.push({
      kind: 'sample',
      timeS: index,
      latitudeDeg: 52,
      longitudeDeg: -1,
      altitudeFt: 400 + 20 * index,
      indicatedAirspeedKt: 92,
      headingDeg: 240,
      bankDeg: 0,
      pitchDeg: 8,
      verticalSpeedFpm: 1200,
    });
  }
  if (end !== null) lines.push({ kind: 'end', timeS: samples - 1, reason: end, text: 'The attempt ended.', samples });
  return lines.map(recordingLine).join('');
}

export const sha256 = (text: string | Uint8Array) => createHash('sha256').update(text).digest('hex');

/** Scores the number of samples; throws for the student "Nobody", gives a wrong score for the student "Broken". */
export function countingScoring(revision = 'test-1') {
  const scored: string[] = [];
  const scoring: Scoring = {
    ENGINE_REVISION: revision,
    scoreRecording(recording) {
      scored.push(recording.header.attemptId);
      if (recording.header.student === 'Nobody') throw new Error('there is no lift-off in it');
      const score = scoreOf(recording, revision);
      return recording.header.student === 'Broken' ? { ...score, overall: Number.NaN } : score;
    },
    traceOf(recording, maxPoints) {
      if (recording.header.student === 'Nobody') throw new Error('there is no lift-off in it');
      return traceOf(recording, maxPoints);
    },
    returnMoment: ({ samples }) => ({ ok: false, why: `there are only ${samples.length} samples` }),
  };
  return { scoring, scored };
}

function scoreOf({ header, samples }: Recording, engineRevision: string): Score {
  const criterion: Criterion = {
    score: samples.length,
    measured: 3.5,
    target: 3,
    unit: 's',
    weight: 0.25,
    band: { from: null, to: 4 },
    atS: 2,
    text: 'Half a second late.',
    details: {},
  };
  return {
    attemptId: header.attemptId,
    overall: samples.length,
    uncapped: samples.length,
    headline: 'Lower the nose sooner.',
    outcome: 'stopped-on-runway',
    criteria: { delay: criterion, bank: criterion, airspeed: criterion, touchdown: criterion },
    findings: [],
    verdict: { text: 'A return needed 900 ft and had 1,002 ft.', neededFt: 900, hadFt: 1002, returnExisted: true },
    ledger: null,
    costs: null,
    events: [],
    phases: [],
    failure: { atS: 2, heightFt: 1002, plannedHeightFt: 1000, distanceFt: 6000, indicatedAirspeedKt: 92 },
    engineRevision,
    rubric: { id: header.rubric.id, revision: header.rubric.revision, name: header.rubric.name },
  };
}

function traceOf({ samples }: Recording, maxPoints: number): Trace {
  const shown = samples.slice(0, maxPoints);
  const none = shown.map(() => null);
  return {
    timeS: shown.map((sample) => sample.timeS),
    heightFt: shown.map((sample) => sample.altitudeFt),
    indicatedAirspeedKt: none,
    stallSpeedKt: none,
    bankDeg: none,
    verticalSpeedFpm: none,
    loadFactor: none,
    powerFraction: none,
    alongFt: none,
    acrossFt: none,
    headingDeg: none,
  };
}

/** What tests leave half open, or could not open at all, goes at the end of their file. */
const folders: string[] = [];
afterAll(async () => {
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

/** An app over a store in a new folder, with the counting scoring. `close` takes it all away. */
export async function testApp(own: Partial<AppDeps> = {}) {
  const folder = await mkdtemp(join(tmpdir(), 'stillprop-debrief-'));
  folders.push(folder);
  const dataDir = join(folder, 'data');
  const { scoring, scored } = countingScoring();
  const logged: string[] = [];
  const store = own.store ?? (await openStore({ dataDir }));
  const app = buildApp({ store, catalogue, scoring, log: (line) => logged.push(line), ...own });
  return {
    app,
    store,
    dataDir,
    scored,
    logged,
    send: (text: string | Buffer, hash = sha256(text)) =>
      app.inject({
        method: 'POST',
        url: '/api/recordings',
        headers: { 'content-type': 'application/x-ndjson', 'x-content-sha256': hash },
        payload: text,
      }),
    async close() {
      await app.close();
      await store.close();
      await rm(folder, { recursive: true });
    },
  };
}
