// A recording as the bridge would write it, flown by the stand-in without sockets: for benchmarks and tests.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { StandInFlight, TICK_S } from '@stillprop/bench';
import {
  bundleOf,
  CATALOGUE_FOLDERS,
  catalogueFromFiles,
  RECORDING_FORMAT,
  RECORDING_VERSION,
  type RecordedEvent,
  recordingLine,
  type ScenarioBundle,
} from '@stillprop/contracts';
import { ROOT } from './command.js';

export function shelfBundle(scenarioId: string): ScenarioBundle {
  const shelf = join(ROOT, 'fixtures');
  const catalogue = catalogueFromFiles(
    CATALOGUE_FOLDERS.flatMap((folder) =>
      readdirSync(join(shelf, folder)).map((name) => ({
        folder,
        id: name.replace(/\.json$/, ''),
        text: readFileSync(join(shelf, folder, name), 'utf8'),
      })),
    ),
  );
  if (!catalogue.ok) throw new Error(catalogue.problem.message);
  const bundle = bundleOf(catalogue.value, scenarioId);
  if (!bundle.ok) throw new Error(bundle.problem.message);
  return bundle.value;
}

/** Text of one attempt: `waitS` of standing at the start of the runway, failure at `heightFt`, sampled at `rateHz`. */
export function flownRecordingText({
  pilot = 'prompt',
  heightFt = 900,
  rateHz = 20,
  seed = 7,
  waitS = 0,
} = {}): string {
  const bundle = shelfBundle('first-turn-back');
  const flight = new StandInFlight(bundle);
  flight.begin(bundle, pilot, seed, 1);
  const lines = [
    recordingLine({
      kind: 'header',
      format: RECORDING_FORMAT,
      version: RECORDING_VERSION,
      attemptId: '7f1f2f57-2c3d-4a55-9c11-000000000001',
      startedAt: '2026-01-31T09:30:00Z',
      station: 'test',
      student: null,
      ...bundle,
      drawn: { kind: 'total', heightFt, powerFraction: 0, propeller: 'coarse' },
      link: 'stand-in-text',
    }),
  ];
  const event = (code: RecordedEvent['code'], timeS: number, text: string) =>
    lines.push(recordingLine({ kind: 'event', timeS, code, text }));
  let failed = false;
  let samples = 0;
  const standing = flight.sample();
  for (; samples < waitS * rateHz; samples += 1) {
    lines.push(recordingLine({ kind: 'sample', ...standing, timeS: standing.timeS + samples / rateHz }));
  }
  const ticksPerSample = Math.round(1 / rateHz / TICK_S);
  for (let tick = 0; tick < 400 / TICK_S; tick += 1) {
    flight.tick();
    const now = flight.sample();
    const sample = { ...now, timeS: now.timeS + waitS };
    if (!failed && (sample.heightFt ?? 0) >= heightFt) {
      failed = true;
      event('fail-commanded', sample.timeS, 'The engine was told to fail.');
      flight.obey({ word: 'FAIL', propeller: 'coarse' });
    }
    if (tick % ticksPerSample !== 0) continue;
    samples += 1;
    lines.push(recordingLine({ kind: 'sample', ...sample }));
    if (!failed || !sample.onGround || sample.groundspeedKt !== 0) continue;
    lines.push(
      recordingLine({
        kind: 'end',
        timeS: sample.timeS,
        reason: 'stopped',
        text: 'The aeroplane has stopped.',
        samples,
      }),
    );
    break;
  }
  return lines.join('');
}
