// `stillprop fly` as a program: the check cases of an independent computation, and refusals.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { FILE_SCHEMAS } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { inTemporaryFolder, ROOT, stillprop } from '../support/command.js';

const reference = () => JSON.parse(readFileSync(join(ROOT, 'fixtures/requests/reference-1000ft.json'), 'utf8'));

interface Case {
  readonly name: string;
  readonly technique?: object;
  readonly runway?: object;
  readonly weather?: object;
  /** Distance at failure, climbed on, speed lost, height lost to 180°, largest sink, least stall margin. */
  readonly expected: readonly [number, number, number, number, number, number];
}

// An independent program with the same equations gave these for aeroplane R (invented), failure at 1000 ft.
// Tolerance: 3 %, or 4 ft / 0.4 kt / 25 ft/min, whichever is larger.
const CASES: readonly Case[] = [
  { name: 'R', expected: [8517, 55, 9.2, 316, 1746, 1.088] },
  { name: 'delay 1 s', technique: { delayS: 1 }, expected: [8517, 36, 2.3, 299, 1471, 1.129] },
  { name: 'delay 5 s', technique: { delayS: 5 }, expected: [8517, 58, 12.8, 336, 1840, 1.076] },
  { name: 'bank 30°', technique: { bankDeg: 30, stallMargin: 1.02 }, expected: [8517, 55, 9.2, 413, 1414, 1.192] },
  {
    name: 'target 95 kt',
    technique: { targetKcas: 95, stallMargin: 1.02 },
    expected: [8517, 55, 9.2, 417, 2425, 1.115],
  },
  {
    name: 'target 75 kt',
    technique: { targetKcas: 75, stallMargin: 1.02 },
    expected: [8517, 57, 9.2, 229, 1377, 1.029],
  },
  { name: 'climb 108 kt', technique: { climbKcas: 108 }, expected: [10_691, 64, 8.2, 202, 1424, 1.136] },
  {
    name: 'field at 5,000 ft, 30 °C',
    runway: { elevationFt: 5000 },
    weather: { temperatureC: 30 },
    expected: [15_830, 29, 6.7, 411, 1655, 1.127],
  },
];

const near = (value: number, expected: number, atLeast: number, what: string) =>
  expect(Math.abs(value - expected), `${what}: ${value} against ${expected}`).toBeLessThanOrEqual(
    Math.max(Math.abs(expected) * 0.03, atLeast),
  );

test.each(CASES)('$name agrees with the independent computation', async ({ technique, runway, weather, expected }) => {
  const request = reference();
  Object.assign(request.technique, technique);
  Object.assign(request.runway, runway);
  Object.assign(request.weather, weather);
  const { code, out, err } = await stillprop(['fly', '-', '--json'], JSON.stringify(request));
  expect(err).toBe('');
  expect(code).toBe(0);
  const result = JSON.parse(out);
  const [distanceFt, gainedFt, lostKt, lost180Ft, sinkFpm, margin] = expected;
  near(result.failure.distanceFt, distanceFt, 4, 'distance');
  near(result.heightGainedFt, gainedFt, 4, 'climbed on');
  near(result.speedLostKt, lostKt, 0.4, 'speed lost');
  near(result.heightLostTo180Ft, lost180Ft, 4, 'height lost to 180°');
  near(result.largestSinkFpm, sinkFpm, 25, 'largest sink');
  near(result.leastStallMargin, margin, 0, 'least stall margin');
});

test('the same answer is printed for a person, with units and the caution', async () => {
  const { code, out } = await stillprop(['fly', join(ROOT, 'fixtures/requests/reference-1000ft.json')]);
  expect(code).toBe(0);
  const json = JSON.parse(
    (await stillprop(['fly', join(ROOT, 'fixtures/requests/reference-1000ft.json'), '--json'])).out,
  );
  expect(out).toContain(`${Math.round(json.failure.distanceFt).toLocaleString('en-GB')} ft`);
  expect(out).toContain(`${Math.round(json.largestSinkFpm).toLocaleString('en-GB')} ft/min`);
  expect(out).toContain('no licence to try it low');
});

test('the flown track as comma-separated values: even steps to the contact, units in the names', async () => {
  const path = join(ROOT, 'fixtures/requests/reference-1000ft.json');
  const { code, out, err } = await stillprop(['fly', path, '--csv', '--every', '2']);
  expect([code, err]).toEqual([0, '']);
  const [heading = [], ...rows] = out
    .trimEnd()
    .split('\r\n')
    .map((row) => row.split(','));
  const column = (name: string) => rows.map((row) => row[heading.indexOf(name)] as string);
  for (const row of rows) expect(row).toHaveLength(heading.length);
  expect(heading).toEqual(expect.arrayContaining(['phase', 'alongFt', 'acrossFt', 'airspeedKcas', 'groundspeedKt']));
  expect(column('timeS').slice(0, 3)).toEqual(['0', '2', '4']);
  const json = JSON.parse((await stillprop(['fly', path, '--json'])).out);
  expect(Number(column('heightFt')[0])).toBeCloseTo(1000, 0);
  expect(Number(column('timeS').at(-1))).toBeCloseTo(json.timeToGroundS, 0);
  expect(Number(column('alongFt').at(-1))).toBeCloseTo(json.touchdown.alongFt, 0);
  expect(Math.max(...column('verticalSpeedFpm').map((fpm) => -Number(fpm)))).toBeLessThanOrEqual(
    json.largestSinkFpm + 1,
  );
  // A calm day: over the ground it goes at its airspeed, less the share that is vertical.
  const [ktas, groundKt, pathDeg] = ['airspeedKtas', 'groundspeedKt', 'flightPathDeg'].map((name) =>
    Number(column(name)[5]),
  );
  expect(groundKt).toBeCloseTo((ktas ?? 0) * Math.cos(((pathDeg ?? 0) * Math.PI) / 180), 0);
});

test.each([
  [['--csv', '--json'], /--json and --csv cannot both be asked for/],
  [['--every', '2'], /--every needs --csv/],
  [['--csv', '--every', '0'], /--every must be a number from 0\.02 to 10, got "0"/],
])('fly %j is refused in one line', async (words, sentence) => {
  const { code, out, err } = await stillprop(['fly', join(ROOT, 'fixtures/requests/reference-1000ft.json'), ...words]);
  expect([code, out]).toEqual([2, '']);
  expect(err).toMatch(sentence);
});

const broken = (change: (request: ReturnType<typeof reference>) => void) => {
  const request = reference();
  change(request);
  return JSON.stringify(request);
};

test.each([
  [
    'negative mass',
    broken((request) => (request.aircraft.massKg = -1500)),
    /aircraft\.massKg must be 100 to 10000 kg, got -1500/,
  ],
  [
    'stall speed above best glide',
    broken((request) => (request.aircraft.stallCleanKcas = 110)),
    /aircraft\.bestGlideKcas must be 110 to 200 kt, not below stallCleanKcas, got 105/,
  ],
  ['an unknown field', broken((request) => (request.aircraft.colour = 'red')), /aircraft\.colour is not a field/],
  ['NaN', broken(() => {}).replace('1500', 'NaN'), /not JSON/],
  [
    'a number given as text',
    broken((request) => (request.failure.heightFt = '1000')),
    /failure\.heightFt must be a number/,
  ],
  ['a missing field', broken((request) => delete request.technique.targetKcas), /technique\.targetKcas is missing/],
  ['text that is not JSON', 'engine, stop!', /the input is not JSON/],
  ['nothing at all', '', /the input is not JSON/],
  ['a list', '[]', /the input must be an object, got \[\]/],
])('%s is refused in one line, with exit code 2 and nothing on stdout', async (_, input, sentence) => {
  const { code, out, err } = await stillprop(['fly', '-', '--json'], input);
  expect(err).toMatch(sentence);
  expect(err.trim().split('\n')).toHaveLength(1);
  expect(out).toBe('');
  expect(code).toBe(2);
});

test('a missing file and a folder are refused by name', async () => {
  await inTemporaryFolder(async (dir) => {
    const missing = await stillprop(['fly', join(dir, 'none.json')]);
    expect([missing.code, missing.err.trim()]).toEqual([
      2,
      `stillprop: ${join(dir, 'none.json')}: there is no such file`,
    ]);
    const folder = await stillprop(['fly', dir]);
    expect([folder.code, folder.err.trim()]).toEqual([2, `stillprop: ${dir} is a folder, not a file`]);
    writeFileSync(join(dir, 'half.ndjson'), '{"kind":"header"');
    const json = await stillprop(['score', join(ROOT, 'fixtures/weather/calm.json')]);
    expect([json.code, json.err.trim()]).toEqual([
      2,
      `stillprop: ${join(ROOT, 'fixtures/weather/calm.json')}: this is not a recording: line 1 is no header of a stillprop-recording`,
    ]);
    const half = await stillprop(['score', join(dir, 'half.ndjson')]);
    expect(half.code).toBe(2);
    expect(half.err.trim().split('\n')).toHaveLength(1);
  });
});

test.each([['--nonsense'], ['demo', '--speed', 'fast'], ['demo', '--pilot', 'ace'], ['schema', 'engine'], ['fly']])(
  'the words "%s %s %s" end with exit code 2 and nothing on stdout',
  async (...words) => {
    const { code, out, err } = await stillprop(words.filter((word) => word !== undefined));
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).not.toBe('');
  },
);

test('schema lists every kind there is in its help', async () => {
  const { out } = await stillprop(['schema', '--help']);
  for (const kind of Object.keys(FILE_SCHEMAS)) expect(out.replace(/\s+/g, ' ')).toContain(kind);
});

test('--help names every command and the caution', async () => {
  const { code, out } = await stillprop(['--help']);
  expect(code).toBe(0);
  for (const word of ['start', 'demo', 'aircraft', 'fly', 'plan', 'score', 'schema'])
    expect(out).toMatch(new RegExp(`\\n {2}${word}\\b`));
  expect(out).toContain('Not a licence');
});
