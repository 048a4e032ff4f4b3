// Recordings for tests, all invented: the shelf's first scenario with a few seconds of climb.
import { readdirSync, readFileSync } from 'node:fs';
import {
  bundleOf,
  CATALOGUE_FOLDERS,
  catalogueFromFiles,
  type RecordingHeader,
  type RecordingLine,
  recordingLine,
  type Score,
} from '@stillprop/contracts';

const shelf = new URL('../../../fixtures/', import.meta.url);
const catalogue = catalogueFromFiles(
  CATALOGUE_FOLDERS.flatMap((folder) =>
    readdirSync(new URL(`${folder}/`, shelf)).map((name) => ({
      folder,
      id: name.replace(/\.json$/, ''),
      text: readFileSync(new URL(`${folder}/${name}`, shelf), 'utf8'),
    })),
  ),
);
if (!catalogue.ok) throw new Error(catalogue.problem.message);
const bundle = bundleOf(catalogue.value, 'first-turn-back');
if (!bundle.ok) throw new Error(bundle.problem.message);
const { value: scenarioBundle } = bundle;

export interface RecordingChoices {
  readonly attemptId: string;
  readonly startedAt?: string;
  readonly student?: string | null;
  readonly scenarioId?: string;
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
  const { scenario, ...rest } = scenarioBundle;
  const header: RecordingHeader = {
    kind: 'header',
    format: 'stillprop-recording',
    version: 1,
    attemptId,
    startedAt,
    station: 'desk',
    student,
    scenario: { ...scenario, id: choices.scenarioId ?? scenario.id },
    ...rest,
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

export function scoreFor(attemptId: string, engineRevision = '1'): Score {
  const criterion = {
    score: 80,
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
    attemptId,
    overall: 71,
    uncapped: 80,
    headline: 'Lower the nose sooner.',
    outcome: 'stopped-on-runway',
    criteria: {
      delay: criterion,
      bank: { ...criterion, score: 70 },
      airspeed: { ...criterion, score: 60 },
      touchdown: { ...criterion, score: null, measured: null, weight: 0 },
    },
    findings: [],
    verdict: { text: 'A return needed 900 ft and had 1,002 ft.', neededFt: 900, hadFt: 1002, returnExisted: true },
    ledger: null,
    costs: null,
    events: [],
    phases: [],
    failure: { atS: 2, heightFt: 1002, plannedHeightFt: 1000, distanceFt: 6000, indicatedAirspeedKt: 92 },
    engineRevision,
    rubric: { id: 'standard', revision: 1, name: 'Standard' },
  };
}
