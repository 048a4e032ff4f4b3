// A track of known truth becomes a recording: valid, with what was not measured named, and bank inferred right in still air.

import { readFileSync } from 'node:fs';
import { fromRunwayFrame, isPlaced, Runway, readRecording, recordingLine, ScenarioBundle } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { recordingOfTrack } from './recordingOfTrack.js';
import type { TrackLog } from './trackLog.js';

const shelf = (path: string) =>
  JSON.parse(readFileSync(new URL(`../../../fixtures/${path}.json`, import.meta.url), 'utf8')) as unknown;
const bundle = ScenarioBundle.parse({
  scenario: shelf('scenarios/first-turn-back'),
  aircraft: shelf('aircraft/turnstone'),
  runway: shelf('runways/quarry-moor-24'),
  weather: shelf('weather/light-headwind'),
  rubric: shelf('rubrics/standard'),
});
const runway = Runway.parse(bundle.runway);
if (!isPlaced(runway)) throw new Error('needs a runway with a position');

/** Stands 5 s, then circles to the right at 150 ft/s with 3000 ft radius, climbing 10 ft/s to 40 s and sinking after. */
const points = Array.from({ length: 80 }, (_, timeS) => {
  const turned = Math.max(timeS - 5, 0) * (150 / 3000);
  const place = { alongFt: 3000 * Math.sin(turned), acrossFt: 3000 * (1 - Math.cos(turned)) };
  const heightFt = timeS < 5 ? 0 : 10 * (timeS <= 40 ? timeS - 5 : 75 - timeS);
  return { timeS, ...fromRunwayFrame(runway, place), altitudeFt: 777 + heightFt };
});
const track: TrackLog = {
  format: 'igc',
  startedAt: '2026-01-31T09:30:00.000Z',
  altitudeFrom: 'gps',
  points,
  leftOutCount: 0,
  leftOut: [],
  warnings: [],
};
const OPTIONS = { attemptId: '7b0f6a52-1d7e-4c1f-9a58-2f6a0c3e9d11', station: 'import', student: null };

test('what was not measured is named, and what is inferred is right in still air', () => {
  const made = recordingOfTrack(track, bundle, OPTIONS);
  if (!made.ok) throw new Error(made.problem.message);
  const { header, samples, events } = made.value;
  expect(header.imported).toMatchObject({ lossFrom: 'climb-end' });
  expect(header.imported?.unmeasured).toContain('indicatedAirspeedKt');
  expect(events[0]?.timeS).toBe(40);
  expect(samples[0]?.altitudeFt).toBeCloseTo(runway.elevationFt, 6);
  // V²/(g·r) = 150²/(32.174·3000): 13.1° of bank.
  expect(samples[30]?.bankDeg).toBeCloseTo(13.1, 0);
  expect(samples[30]?.groundspeedKt).toBeCloseTo(150 / 1.6878, 0);
  expect(samples[30]?.verticalSpeedFpm).toBeCloseTo(600, 6);
});

test('the recording goes through its file unchanged', () => {
  const made = recordingOfTrack(track, bundle, { ...OPTIONS, failedAtS: 38 });
  if (!made.ok) throw new Error(made.problem.message);
  const { header, samples, events, end } = made.value;
  expect(header.imported?.lossFrom).toBe('given');
  const text = [header, ...samples.map((sample) => ({ kind: 'sample' as const, ...sample })), ...events, end]
    .map((line) => recordingLine(line as Parameters<typeof recordingLine>[0]))
    .join('');
  const read = readRecording(text);
  expect(read.ok && read.recording).toEqual(made.value);
});

test('refuses a moment outside the log, and a log without a date', () => {
  const late = recordingOfTrack(track, bundle, { ...OPTIONS, failedAtS: 500 });
  expect(!late.ok && late.problem.message).toBe('failedAtS must be from 0 to 79 s, where the track log ends, got 500');
  const undated = recordingOfTrack({ ...track, startedAt: null }, bundle, OPTIONS);
  expect(!undated.ok && undated.problem.message).toMatch(/^startedAt is missing/);
});

test('says how far the touchdown may be off, unless the log tells the contact', () => {
  const notes = (log: TrackLog) => {
    const made = recordingOfTrack(log, bundle, OPTIONS);
    if (!made.ok) throw new Error(made.problem.message);
    return made.value.header.imported?.notes.join(' ');
  };
  expect(notes(track)).toContain('may be some 250 ft off');
  const told = points.map((point) => ({ ...point, onGround: point.timeS < 5 }));
  expect(notes({ ...track, points: told })).not.toContain('ft off');
});
