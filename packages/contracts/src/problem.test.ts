import { expect, test } from 'vitest';
import { FlyRequest, parse, parseJson } from './index.js';
import { referenceRequest } from './referenceRequest.fixture.js';

const withField = (path: string, value: unknown) => {
  const request = JSON.parse(JSON.stringify(referenceRequest)) as unknown as Record<string, unknown>;
  const keys = path.split('.');
  let at = request;
  for (const key of keys.slice(0, -1)) at = at[key] as Record<string, unknown>;
  at[keys.at(-1) as string] = value;
  return request;
};

test.each([
  ['aircraft.massKg', -1500, 'aircraft.massKg must be 100 to 6000 kg, got -1500'],
  ['aircraft.massKg', 'heavy', 'aircraft.massKg must be a number of kg, got "heavy"'],
  ['aircraft.massKg', undefined, 'aircraft.massKg is missing: it must be a number of kg'],
  ['aircraft.colour', 'red', 'aircraft.colour is not a field that aircraft has'],
  ['wheels', 3, 'wheels is not a field that the request has'],
  ['runway.surface', 'sand', 'runway.surface must be paved, wet-paved, dry-grass or wet-grass, got "sand"'],
  [
    'weather.winds',
    [{ heightFt: 33, fromTrueDeg: 90, speedKt: 400 }],
    'weather.winds[0].speedKt must be 0 to 100 kt, got 400',
  ],
  ['aircraft.climb', [], 'aircraft.climb must hold one or two climb points, got []'],
])('%s = %j is refused in one sentence', (path, value, sentence) => {
  const parsed = parse(FlyRequest, withField(path, value), 'the request');
  expect(parsed.ok ? '' : parsed.problem.message).toBe(sentence);
});

test('a NaN is refused, since JSON has none', () => {
  const parsed = parse(FlyRequest, withField('aircraft.massKg', Number.NaN), 'the request');
  expect(parsed.ok ? '' : parsed.problem.message).toMatch(/^aircraft\.massKg must be a number of kg, got/);
});

test('text that is not JSON is refused by name', () => {
  const parsed = parseJson(FlyRequest, '{"aircraft": NaN}', 'request.json');
  expect(parsed.ok ? '' : parsed.problem.message).toMatch(/^request\.json is not JSON: /);
});

test('what may be left out gets its stated default', () => {
  const { weather: _, ...rest } = JSON.parse(JSON.stringify(referenceRequest));
  const parsed = parse(FlyRequest, { ...rest, technique: { climbKcas: 92, targetKcas: 85 } }, 'the request');
  expect(parsed.ok && parsed.value.weather).toEqual({ temperatureC: 15, qnhHpa: 1013.25, winds: [] });
  expect(parsed.ok && parsed.value.technique).toMatchObject({
    delayS: 3,
    bankDeg: 45,
    turn: 'best',
    gearDownHeightFt: 200,
  });
});
