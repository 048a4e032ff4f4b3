// The lines of a very short recording, for tests: header, an event, three samples, end.
import { readFileSync } from 'node:fs';
import { Aircraft } from './aircraft.js';
import { recordingLine, type Sample } from './index.js';
import { Rubric } from './rubric.js';
import { Runway } from './runway.js';
import { Scenario } from './scenario.js';
import { Weather } from './weather.js';

const shelf = (path: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../fixtures/${path}.json`, import.meta.url), 'utf8'));

const sampleAt = (timeS: number): Sample => ({
  timeS,
  latitudeDeg: 52.1,
  longitudeDeg: -1.8,
  altitudeFt: 312,
  indicatedAirspeedKt: 0,
  headingDeg: 238,
  bankDeg: 0,
  pitchDeg: 0,
  verticalSpeedFpm: 0,
});

export function recordingLines(): string[] {
  return [
    recordingLine({
      kind: 'header',
      format: 'stillprop-recording',
      version: 1,
      attemptId: '7f1f2f57-2c3d-4a55-9c11-000000000001',
      startedAt: '2026-01-31T09:30:00Z',
      station: 'test',
      student: null,
      scenario: Scenario.parse(shelf('scenarios/first-turn-back')),
      aircraft: Aircraft.parse(shelf('aircraft/turnstone')),
      runway: Runway.parse(shelf('runways/quarry-moor-24')),
      weather: Weather.parse(shelf('weather/calm')),
      rubric: Rubric.parse(shelf('rubrics/standard')),
      drawn: { kind: 'total', heightFt: 900, powerFraction: 0, propeller: 'coarse' },
      link: 'stand-in-text',
    }),
    recordingLine({ kind: 'event', timeS: 0, code: 'armed', text: 'Armed.' }),
    recordingLine({ kind: 'sample', ...sampleAt(0) }),
    recordingLine({ kind: 'sample', ...sampleAt(0.05) }),
    recordingLine({ kind: 'sample', ...sampleAt(0.1) }),
    recordingLine({ kind: 'end', timeS: 0.1, reason: 'stopped', text: 'Stopped.', samples: 3 }),
  ];
}
