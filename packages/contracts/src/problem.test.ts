import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { FlyRequest, LinkProfile, parse, parseJson, Scenario } from './index.js';
import { referenceRequest } from './referenceRequest.fixture.js';

const scenario = JSON.parse(
  readFileSync(new URL('../../../fixtures/scenarios/first-turn-back.json', import.meta.url), 'utf8'),
);

const link = JSON.parse(readFileSync(new URL('../../../fixtures/links/stand-in-text.json', import.meta.url), 'utf8'));

const withField = (path: string, value: unknown) => {
  const request = JSON.parse(JSON.stringify(referenceRequest)) as unknown as Record<string, unknown>;
  const keys = path.split('.');
  let at = request;
  for (const key of keys.slice(0, -1)) at = at[key] as Record<string, unknown>;
  at[keys.at(-1) as string] = value;
  return request;
};

test.each([
  ['aircraft.massKg', -1500, 'aircraft.massKg must be 100 to 10000 kg, got -1500'],
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

test.each([
  ['[]', 'the request must be an object, got []'],
  ['null', 'the request must be an object, got null'],
  ['{"aircraft":3}', 'aircraft must be an object, got 3'],
])('the wrong kind of thing, %s, is refused by its kind', (text, sentence) => {
  const parsed = parseJson(FlyRequest, text, 'the request');
  expect(parsed.ok ? '' : parsed.problem.message).toBe(sentence);
});

test.each([
  [{ revision: 0 }, 'revision must be at least 1, got 0'],
  [{ schemaVersion: 2 }, 'schemaVersion must be 1, got 2'],
  [{ briefing: 'x'.repeat(2001) }, /^briefing must be at most 2000 characters long, got "x+\.\.\.$/],
  [
    { failure: { kind: 'total', height: { choose: 'soon' }, highestHeightFt: 900 } },
    /^failure\.height\.choose must be "fixed" or .*, got "soon"$/,
  ],
])('a scenario with %j is refused in one sentence', (change, sentence) => {
  const parsed = parse(Scenario, { ...scenario, ...change }, 'the scenario');
  const message = parsed.ok ? '' : parsed.problem.message;
  if (typeof sentence === 'string') expect(message).toBe(sentence);
  else expect(message).toMatch(sentence);
});

test.each([
  [{ decoder: { kind: 'csv' } }, 'decoder.kind must be "delimited" or "json", got "csv"'],
  [{ decoder: {} }, 'decoder.kind is missing: it must be "delimited" or "json"'],
  [
    { transport: { kind: 'udp', listenPort: 1, allowedSenders: ['localhost'] } },
    'transport.allowedSenders[0] must be an IP address such as 127.0.0.1, got "localhost"',
  ],
])('a link profile with %j is refused in one sentence', (change, sentence) => {
  const parsed = parse(LinkProfile, { ...link, ...change }, 'the link profile');
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
