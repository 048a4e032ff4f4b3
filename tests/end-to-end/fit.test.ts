// `stillprop fit` as a program: a recording flown by the stand-in, fitted against its own handbook and a wrong one.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { inTemporaryFolder, stillprop } from '../support/command.js';
import { flownRecordingText, shelfBundle } from '../support/flownRecording.js';

const { aircraft } = shelfBundle('first-turn-back');
const OTHER_WIND = { temperatureC: 14, qnhHpa: 1016, winds: [{ heightFt: 33, fromTrueDeg: 90, speedKt: 15 }] };
let recording = '';
beforeAll(() => {
  recording = flownRecordingText({ heightFt: 1400 });
});

/** The recording with other numbers of the aeroplane in its header; the flight stays as it was flown. */
function withAircraft(changes: object): string {
  return withHeader({ aircraft: { ...aircraft, ...changes } });
}

function withHeader(changes: object, text = recording): string {
  const [header = '', ...rest] = text.split('\n');
  return [JSON.stringify({ ...JSON.parse(header), ...changes }), ...rest].join('\n');
}

/** The recording with an airspeed indicator that reads too much. */
function withAirspeedTimes(factor: number): string {
  return recording.replace(
    /("(?:indicated|true)AirspeedKt":)([\d.]+)/g,
    (_, key: string, speed: string) => `${key}${Number(speed) * factor}`,
  );
}

const fit = async (words: readonly string[], text: string) => {
  const { code, out, err } = await stillprop(['fit', '-', '--json', ...words], text);
  expect(err).toBe('');
  expect(code).toBe(0);
  return JSON.parse(out);
};

function expectInside({ low, high }: { readonly low: number; readonly high: number }, truth: number): void {
  expect(low).toBeLessThanOrEqual(truth);
  expect(high).toBeGreaterThanOrEqual(truth);
}

test.each(['known', 'estimated'])(
  'with the wind %s the stand-in glides like the handbook it flies by',
  async (wind) => {
    const result = await fit(['--wind', wind], recording);
    for (const [name, truth] of [
      ['bestGlideRatio', aircraft.bestGlideRatio],
      ['bestGlideKcas', aircraft.bestGlideKcas],
      ['propellerSinkFactor', 1],
    ] as const) {
      expect(Math.abs(result[name].value / truth - 1), name).toBeLessThan(0.01);
      // The stand-in turns back at 85 kt and never flies at its 105 kt of best glide.
      const isSpeed = name === 'bestGlideKcas';
      expect(result[name].verdict, name).toBe(isSpeed ? 'extrapolated' : 'agrees');
      if (isSpeed) expect(result[name].interval95).toBeNull();
      else expectInside(result[name].interval95, truth);
    }
    expect(result.flown.bestGlideInside).toBe(false);
    expect(result.flown.levelKcas.high).toBeLessThan(aircraft.bestGlideKcas);
    expect(result.cautions.join()).toContain('Best glide was not flown');
    expect(result.wind.source).toBe(wind);
    // Between the 8 kt from 255° at 33 ft and the 14 kt from 265° at 1000 ft of the scenario's weather.
    expect(result.wind.speedKt).toBeGreaterThan(11);
    expect(result.wind.speedKt).toBeLessThan(15);
    expect(Math.abs(result.wind.fromTrueDeg - 262)).toBeLessThan(5);
  },
);

test.each([
  ['prompt', 900],
  ['hesitant', 900],
  ['lands-ahead', 900],
  ['shallow', 900],
])('with the wind estimated the interval holds the ratio flown: %s, failed at %d ft', async (pilot, heightFt) => {
  const result = await fit(['--wind', 'estimated'], flownRecordingText({ pilot, heightFt }));
  expectInside(result.bestGlideRatio.interval95, aircraft.bestGlideRatio);
  expectInside(result.propellerSinkFactor.interval95, 1);
  // Narrow enough to be of use: 1 % to either side.
  expect(result.bestGlideRatio.interval95.high / result.bestGlideRatio.value).toBeLessThan(1.01);
});

test('best glide that was not flown is said before the figures, and its speed left out', async () => {
  const { out } = await stillprop(['fit', '-'], recording);
  expect(out.replace(/\s+/g, ' ')).toMatch(/Best glide was not flown: .* best glide is faster/);
  expect(out.indexOf('Best glide was not flown')).toBeLessThan(out.indexOf('Its glide'));
  expect(out).toMatch(/Best glide \(kt CAS\) +105\.0 +not flown\n/);
});

test('a handbook that promises more is told apart, in words a person reads', async () => {
  const promised = withAircraft({ bestGlideRatio: aircraft.bestGlideRatio / 0.85 });
  const { code, out, err } = await stillprop(['fit', '-'], promised);
  expect([code, err]).toEqual([0, '']);
  expect(out).toContain('It glides 15 % worse than the handbook.');
  expect(out).toMatch(/Best glide ratio +10\.\d\d .* 12\.35 +15 % worse\n/);
  expect(out).toMatch(/Sink \(ft\/min\) +1,0\d\d /);
  expect(out).toContain("tells of the simulator's aeroplane in this");
  for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
});

test('an airspeed the ground track contradicts comes before the figures, and none is held against the handbook', async () => {
  const wrong = withAirspeedTimes(1.05);
  const { out } = await stillprop(['fit', '-'], wrong);
  expect(out).toContain('Its glide is not to be told from the handbook while the airspeed');
  expect(out.indexOf('The ground track asks for 0.95')).toBeGreaterThan(0);
  expect(out.indexOf('The ground track asks for 0.95')).toBeLessThan(out.indexOf('Its glide'));
  expect(out).not.toMatch(/better|worse|agrees/);
  const result = await fit([], wrong);
  expect(result.bestGlideRatio.verdict).toBe('unclear');
  expect(result.cautions[0]).toContain('times the airspeed recorded');
});

test('a range is kept to', async () => {
  const whole = await fit([], recording);
  const fromS = whole.segments[0].fromS + 5;
  const part = await fit(['--from', String(fromS)], recording);
  expect(part.segments[0].fromS).toBeGreaterThanOrEqual(fromS);
  expect(part.samples).toBeLessThan(whole.samples);
});

test.each<[string, readonly string[], () => string, RegExp]>([
  ['a wind nobody knows', ['--wind', 'guessed'], () => '', /--wind must be known or estimated, got "guessed"/],
  ['a time that is no number', ['--from', 'soon'], () => '', /--from must be a number from 0 to \d+, got "soon"/],
  [
    'a time outside the recording',
    ['--from', '90000'],
    () => recording,
    /: the input: --from must be \d+\.\d to .* got 90000/,
  ],
  [
    'a range turned round',
    ['--from', '60', '--to', '50'],
    () => recording,
    /: the input: --to must be after --from \(60 s\), got 50/,
  ],
  [
    'a climb',
    ['--to', '60'],
    () => recording,
    /: the input: samples must hold 20 s or more of glide with a dead engine, got 0 s/,
  ],
  ['no recording', [], () => 'engine, stop!\n', /this is not a recording: line 1 is no header/],
  [
    'a wind that was not flown in',
    [],
    () => withHeader({ weather: OTHER_WIND }, flownRecordingText({ pilot: 'hesitant', heightFt: 900 })),
    /: the ground track tells of a wind of 1\d kt from 26\d° .* has \d\d kt from 090°: .*, fit with --wind estimated$/m,
  ],
  ['a broken header', [], () => withAircraft({ massKg: -1 }), /aircraft\.massKg must be 100 to 10000 kg, got -1/],
])('%s is refused in one line, with exit code 2 and nothing on stdout', async (_, words, text, sentence) => {
  const { code, out, err } = await stillprop(['fit', '-', ...words], text());
  expect(err).toMatch(sentence);
  expect(err.trim().split('\n')).toHaveLength(1);
  expect(out).toBe('');
  expect(code).toBe(2);
});

test('a file is read by name, and one that is not there refused by name', async () => {
  await inTemporaryFolder(async (dir) => {
    const path = join(dir, 'flown.ndjson');
    writeFileSync(path, recording);
    expect((await stillprop(['fit', path])).code).toBe(0);
    const missing = await stillprop(['fit', join(dir, 'none.ndjson')]);
    expect(missing.code).toBe(2);
    expect(missing.err).toContain('there is no such file');
  });
});

test('--help says what the command is for', async () => {
  const { code, out } = await stillprop(['--help']);
  expect(code).toBe(0);
  expect(out).toMatch(/\n {2}fit\b[^\n]* fit a glide flown/);
});
