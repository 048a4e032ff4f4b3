import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';
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

const DECODERS =
  '"delimited" or "keyValue" or "json" or "binary" or "gdl90" or "nmea0183" or "entityState" or "mavlink2"';

test.each([
  [{ decoder: { kind: 'csv' } }, `decoder.kind must be ${DECODERS}, got "csv"`],
  [{ decoder: {} }, `decoder.kind is missing: it must be ${DECODERS}`],
  [
    { transport: { kind: 'websocketClient', url: 'http://127.0.0.1' } },
    'transport.url must be an address that begins with ws:// or wss://, such as ws://127.0.0.1:8080/data, got "http://127.0.0.1"',
  ],
  [
    { transport: { kind: 'tcpServer', listenPort: 1, longestLineBytes: 10 } },
    'transport.longestLineBytes must be 64 to 65536 bytes, got 10',
  ],
  [
    { decoder: { kind: 'binary', match: [{ offset: 0, hex: '4g' }] } },
    'decoder.match[0].hex must be 1 to 512 bytes, each as two hexadecimal digits, such as "4e 41 00", got "4g"',
  ],
  [
    { decoder: { kind: 'binary', fields: [{ name: 'pitch', offset: 0, type: 'float' }] } },
    'decoder.fields[0].type must be uint8, int8, uint16, int16, uint32, int32, uint64, int64, float32 or float64, got "float"',
  ],
  [{ decoder: { kind: 'mavlink2', systemId: 0 } }, 'decoder.systemId must be 1 to 255, got 0'],
  [{ timeSource: 'clock' }, 'timeSource must be "simulator" or "arrival", got "clock"'],
  [{ derived: [{ channel: 'heightFt' }] }, 'derived[0].elevationFt is missing: it must be a number of ft'],
  [
    { commands: { port: 1, fail: 3 } },
    'commands.fail must be a text of 1 to 500 characters, or an object with hex (and values), got 3',
  ],
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

test.each([
  ['list', '['.repeat(20_000) + ']'.repeat(20_000), 'an object, got a list nested too deep'],
  ['object', `${'{"aircraft":'.repeat(20_000)}1${'}'.repeat(20_000)}`, 'an object nested too deep'],
])('a %s nested ten thousands deep is refused as such, not met with a fault', (_, text, words) => {
  const parsed = parseJson(z.strictObject({ aircraft: z.string() }), text, 'the message');
  expect(parsed.ok ? '' : parsed.problem.message).toContain(words);
});
