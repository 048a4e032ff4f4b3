// What the tests of the bridge share: folders that go away, the shelf's demo data, and waiting for something to be so.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  bundleOf,
  type Catalogue,
  catalogueFromFiles,
  LinkProfile,
  RECORDING_FORMAT,
  type RecordingHeader,
  type Sample,
  type ScenarioBundle,
  UdpTransport,
} from '@stillprop/contracts';
import { onTestFinished } from 'vitest';

const SHELF = new URL('../../../fixtures/', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, SHELF), 'utf8');

export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'bridge-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** The first shelf scenario, its failure at 300 ft so that a test is short. */
export function demoBundle(): ScenarioBundle {
  const files = [
    { folder: 'aircraft', id: 'turnstone' },
    { folder: 'runways', id: 'quarry-moor-24' },
    { folder: 'weather', id: 'light-headwind' },
    { folder: 'rubrics', id: 'standard' },
    { folder: 'scenarios', id: 'first-turn-back' },
  ] as const;
  const catalogue = catalogueFromFiles(
    files.map((file) => ({ ...file, text: read(`${file.folder}/${file.id}.json`) })),
  );
  if (!catalogue.ok) throw new Error(catalogue.problem.message);
  const bundle = bundleOf(catalogue.value as Catalogue, 'first-turn-back');
  if (!bundle.ok) throw new Error(bundle.problem.message);
  const { scenario } = bundle.value;
  const failure = { ...scenario.failure, height: { choose: 'fixed', heightFt: 300 } as const };
  return { ...bundle.value, scenario: { ...scenario, failure } };
}

/** The stand-in's text profile on any free port, sending commands to the port given. */
export function demoLink(commandPort: number, change: Partial<LinkProfile> = {}): LinkProfile {
  const profile = LinkProfile.parse(JSON.parse(read('links/stand-in-text.json')));
  return {
    ...profile,
    transport: UdpTransport.parse({ ...profile.transport, listenPort: 0 }),
    commands: { host: '127.0.0.1', ...profile.commands, port: commandPort },
    ...change,
  };
}

export function demoHeader(attemptId: string): RecordingHeader {
  return {
    kind: 'header',
    format: RECORDING_FORMAT,
    version: 1,
    attemptId,
    startedAt: '2026-01-31T09:30:00Z',
    station: 'Station 1',
    student: null,
    ...demoBundle(),
    drawn: { kind: 'total', heightFt: 300, powerFraction: 0, propeller: 'coarse' },
    link: 'stand-in-text',
  };
}

export function demoSample(timeS: number): Sample {
  return {
    timeS,
    latitudeDeg: 52.1,
    longitudeDeg: -1.8,
    altitudeFt: 312,
    indicatedAirspeedKt: 0,
    headingDeg: 238,
    bankDeg: 0,
    pitchDeg: 0,
    verticalSpeedFpm: 0,
  };
}

/** Waits until something is so; fails by the test's own time limit if it never is. */
export async function until(what: () => boolean): Promise<void> {
  while (!what()) await new Promise((resolve) => setTimeout(resolve, 5));
}
