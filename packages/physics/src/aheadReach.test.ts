// What a landing ahead still has in front of it: edges that the flights confirm, and that move the right way.
import { expect, test } from 'vitest';
import { aheadReach } from './aheadReach.js';
import { flyAttempt } from './flyAttempt.js';
import { requestR, surfaceWind } from './reference.fixture.js';
import type { FlyRequest } from './request.js';

const long = requestR({ runway: { lengthFt: 6000 } });
const ahead = (request: FlyRequest, heightFt: number) =>
  flyAttempt({
    ...request,
    technique: { ...request.technique, turn: 'ahead' },
    failure: { ...request.failure, heightFt },
  }).outcome;

test('the edges are where the flights change', () => {
  const { stopsUpToFt, airfieldUpToFt } = aheadReach(long);
  expect(stopsUpToFt).toBeGreaterThan(50);
  expect(ahead(long, stopsUpToFt ?? 0)).toBe('stopped-on-runway');
  expect(ahead(long, (stopsUpToFt ?? 0) + 1)).toBe('overrun');
  expect(airfieldUpToFt).toBeGreaterThan(stopsUpToFt ?? 0);
  expect(ahead(long, airfieldUpToFt ?? 0)).toBe('on-airfield');
  expect(ahead(long, (airfieldUpToFt ?? 0) + 1)).toBe('off-airfield');
});

test('where the look ends is told as that', () => {
  const endless = requestR({ runway: { lengthFt: 20_000 } });
  expect(aheadReach(endless, { toFt: 110 })).toEqual({ stopsUpToFt: 110, airfieldUpToFt: 110, scannedToFt: 110 });
});

test('a runway too short to stop on from 50 ft has no such height', () => {
  expect(aheadReach(requestR()).stopsUpToFt).toBeNull();
});

test('a head wind leaves more in front, whatever side the technique turns to', () => {
  const windy = requestR({ runway: { lengthFt: 6000 }, weather: surfaceWind(90, 15) });
  expect(aheadReach(windy).stopsUpToFt).toBeGreaterThan(aheadReach(long).stopsUpToFt ?? 0);
  expect(aheadReach({ ...long, technique: { ...long.technique, turn: 'left' } })).toEqual(aheadReach(long));
});
