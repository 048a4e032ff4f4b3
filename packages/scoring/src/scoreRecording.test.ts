// The whole score: the modelled pilots come out as they flew, any recording scores without failing, twice alike.
import { type Recording, RecordingHeader, readRecording, recordingLine, Sample, Score } from '@stillprop/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { debriefText } from './debriefText.js';
import { type FlownPilot, flownRecording } from './flown.fixture.js';
import { scoreRecording } from './scoreRecording.js';
import { headerOf, shelfBundle } from './shelf.fixture.js';
import { degraded, syntheticRecording } from './synthetic.fixture.js';
import { traceOf } from './traceOf.js';

const bundle = shelfBundle('first-turn-back');
const fly = (pilot: FlownPilot, heightFt = 1000, scenarioId = 'first-turn-back') =>
  scoreRecording(flownRecording(shelfBundle(scenarioId), heightFt, pilot));
const lowest = (score: Score) =>
  Object.entries(score.criteria)
    .filter(([, { score: points }]) => points !== null)
    .sort(([, a], [, b]) => (a.score ?? 0) - (b.score ?? 0))[0]?.[0];

test('prompt: high, all four measured, and the headline says what went well', () => {
  const score = fly({});
  expect(score.overall).toBeGreaterThanOrEqual(90);
  expect(Object.values(score.criteria).every((criterion) => criterion.score !== null)).toBe(true);
  expect(score).toMatchObject({ outcome: 'stopped-on-runway', findings: [] });
  expect(score.headline).toMatch(
    /^You made the runway: you acted in 3\.0 s, held 45° of bank and 85 kt and had [\d,]+ ft of runway left\.$/,
  );
});

test('hesitant: loses on the delay, and the headline says so', () => {
  const score = fly({ technique: { delayS: 6 } });
  expect(lowest(score)).toBe('delay');
  expect(score.criteria.delay.measured).toBeCloseTo(6, 0);
  expect(score.headline).toMatch(
    /Most was lost by waiting [56]\.\d s before you acted: act within 3 s, worth about [5-9]0 ft\.$/,
  );
});

test('shallow: loses on the bank', () => {
  const score = fly({ technique: { bankDeg: 27 } });
  expect(lowest(score)).toBe('bank');
  expect(score.criteria.bank.measured).toBeCloseTo(27, 0);
  expect(score.headline).toMatch(/by too little bank: 27° in the turn, where 45° was asked, worth about [12]\d0 ft\.$/);
});

test('overbanked into a stall: carries the finding, and it stands first', () => {
  const score = fly({
    change: (controls, afterS) =>
      afterS > 5 && afterS < 9
        ? { ...controls, bankRad: Math.sign(controls.bankRad) * 1.1, pitch: { kind: 'loadFactor', loadFactor: 2.4 } }
        : controls,
  });
  expect(score.findings.map(({ code }) => code)).toContain('stall');
  expect(score.outcome).toBe('stall');
  expect(score.criteria.airspeed.score).toBe(0);
  expect(score.overall).toBeLessThanOrEqual(30);
});

test('lands ahead: down with the wings level, a success; low down the scenario asks for it', () => {
  const score = fly({}, 350, 'low-and-ahead');
  expect(score.outcome).toBe('landed-ahead');
  expect(Math.abs(score.criteria.touchdown.details.bankDeg ?? 90)).toBeLessThan(5);
  expect(score.overall).toBeGreaterThanOrEqual(90);
  expect(score.criteria.bank.target).toBe(30);
});

test('landing ahead on the runway it took off from, it says how much was left or by how much it rolls on', () => {
  const ahead = (alongFt: number) =>
    scoreRecording(syntheticRecording(bundle, { ahead: true, speedKt: 80, alongFt }).recording);
  expect(ahead(2000).headline).toMatch(/^You landed ahead on the runway: .* and had [\d,]+ ft of runway left\.$/);
  const long = ahead(4300);
  expect(long.headline).toMatch(
    /^You landed ahead under control: .* and rolled [\d,]+ ft past the end of the runway\.$/,
  );
  expect(long.findings.find(({ code }) => code === 'overrun')?.severity).toBe('caution');
  const { recording, truth } = syntheticRecording(bundle, { ahead: true, speedKt: 80, alongFt: 4300 });
  const cut = recording.samples.filter(({ timeS }) => timeS < truth.contactS + 0.5);
  expect(scoreRecording({ ...recording, samples: cut }).headline).toMatch(
    /and would roll [\d,]+ ft past the end of the runway\.$/,
  );
});

test('never reacts: nothing, whatever the landing was like', () => {
  const score = fly({ frozen: true }, 900);
  expect(score.overall).toBe(0);
  expect(score.findings[0]).toMatchObject({ code: 'no-action', severity: 'fault', cap: 0 });
  expect(score.headline).toMatch(/^No decisive action in the 5\d\.\d s/);
});

test('weights of what was measured add up to 1, and the total is their mean', () => {
  const { recording } = syntheticRecording(bundle, { delayS: 5, bankDeg: 35 });
  const { start: _, ...unplaced } = bundle.runway;
  for (const alter of [recording, { ...recording, header: { ...recording.header, runway: unplaced } }]) {
    const score = scoreRecording(alter);
    const all = Object.values(score.criteria);
    expect(all.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    expect(all.every(({ score: points, weight }) => (points === null) === (weight === 0))).toBe(true);
    const mean = all.reduce((sum, { score: points, weight }) => sum + (points ?? 0) * weight, 0);
    expect(score.uncapped).toBe(Math.round(mean));
  }
});

test('scored twice, or after a journey through its file, it gives the same bytes', () => {
  const recording = degraded(flownRecording(bundle, 900, {}), 4);
  const first = JSON.stringify(scoreRecording(recording));
  expect(JSON.stringify(scoreRecording(recording))).toBe(first);
  const lines = [
    recording.header,
    ...recording.samples.map((sample) => ({ kind: 'sample' as const, ...sample })),
    ...recording.events,
    ...(recording.end === null ? [] : [recording.end]),
  ];
  const read = readRecording(lines.map(recordingLine).join(''));
  if (!read.ok) throw new Error(read.problem.message);
  expect(JSON.stringify(scoreRecording(read.recording))).toBe(first);
});

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
const anySample = fc
  .record({
    timeS: fc.oneof(within(0, 200), within(0, 200), within(0, 1e9)),
    latitudeDeg: fc.oneof(within(52, 52.2), within(-90, 90)),
    longitudeDeg: fc.oneof(within(-1.9, -1.8), within(-180, 180)),
    altitudeFt: fc.oneof(within(300, 1500), within(-2000, 60_000)),
    heightFt: maybe(fc.oneof(within(0, 1200), within(-1000, 60_000))),
    indicatedAirspeedKt: within(-20, 400),
    trueAirspeedKt: maybe(within(-20, 500)),
    groundspeedKt: maybe(within(-20, 500)),
    trackDeg: maybe(within(-360, 720)),
    headingDeg: within(-360, 720),
    bankDeg: within(-180, 180),
    pitchDeg: within(-90, 90),
    verticalSpeedFpm: within(-30_000, 30_000),
    loadFactor: maybe(within(-20, 20)),
    engineRpm: maybe(within(-100, 20_000)),
    powerFraction: maybe(within(-0.05, 1.5)),
    gearFraction: maybe(within(0, 1)),
    flapFraction: maybe(within(0, 1)),
    onGround: maybe(fc.boolean()),
    stallWarning: maybe(fc.boolean()),
  })
  .map((sample) => Object.fromEntries(Object.entries(sample).filter(([, value]) => value !== undefined)) as Sample);

test('any schema-valid recording scores 0 to 100 or not at all, without a number that is none', () => {
  let failures = 0;
  let scored = 0;
  const events = fc.array(
    fc.record({
      kind: fc.constant('event' as const),
      timeS: fc.option(within(0, 200), { nil: null }),
      code: fc.constantFrom(
        'fail-commanded' as const,
        'power-fell' as const,
        'contact' as const,
        'not-obeyed' as const,
      ),
      text: fc.constant('x'),
      figures: fc.record({ fallS: within(-1e9, 1e9) }),
    }),
    { maxLength: 3 },
  );
  fc.assert(
    fc.property(
      fc.array(anySample, { maxLength: 60 }),
      events,
      fc.boolean(),
      fc.boolean(),
      fc.constantFrom('first-turn-back', 'low-and-ahead'),
      (samples, found, placed, floor, id) => {
        const shelf = shelfBundle(id);
        const { start: _, ...unplaced } = shelf.runway;
        const header = headerOf({
          ...shelf,
          runway: placed ? shelf.runway : unplaced,
          scenario: floor ? { ...shelf.scenario, practice: { from: 'floor', floorAltitudeFt: 500 } } : shelf.scenario,
        });
        RecordingHeader.parse(header);
        for (const sample of samples) Sample.parse(sample);
        const recording: Recording = { header, samples, events: found, end: null };
        const score = scoreRecording(recording);
        Score.parse(score);
        if (score.failure !== null) failures++;
        if (score.overall !== null) scored++;
        expect(debriefText(score, header)).not.toMatch(/NaN|Infinity|undefined|null/);
        const trace = traceOf(recording, 20);
        expect(new Set(Object.values(trace).map((column) => column.length)).size).toBe(1);
      },
    ),
    { numRuns: 600, seed: 20_260_131 },
  );
  expect(failures).toBeGreaterThan(20); // or the property would say little
  expect(scored).toBeGreaterThan(5);
});

test('where the air of the day is beyond the model, what rests on it is left out and the rest is scored', () => {
  // A pressure altitude of -1,155 m: the standard atmosphere here begins at -1,000 m.
  const recording = flownRecording(bundle, 1000, {});
  const lowest: Recording = {
    ...recording,
    header: {
      ...recording.header,
      runway: { ...bundle.runway, elevationFt: -1500 },
      weather: { ...bundle.weather, qnhHpa: 1100 },
    },
    samples: recording.samples.map(({ trueAirspeedKt: _, ...sample }) => ({
      ...sample,
      altitudeFt: sample.altitudeFt - 1500 - bundle.runway.elevationFt,
    })),
  };
  RecordingHeader.parse(lowest.header);
  const score = scoreRecording(lowest);
  expect(score.overall).toBeGreaterThan(90);
  expect(score.ledger).toBeNull();
  expect(score.verdict).toMatchObject({ neededFt: null, returnExisted: null });
  expect(score.verdict.text).toBe('No verdict: at this elevation and QNH the air over runway 24 is beyond the model.');
});

test('any legal header can be scored', () => {
  const recording = syntheticRecording(bundle, { rateHz: 5 }).recording;
  const bare = recording.samples.map(({ trueAirspeedKt: _, loadFactor: __, ...sample }): Sample => sample);
  const ends = (low: number, high: number) => fc.oneof(fc.constantFrom(low, high), within(low, high));
  const header = fc.record({
    runway: fc.record({ elevationFt: ends(-1500, 10_000), lengthFt: ends(300, 20_000), widthFt: ends(10, 1000) }),
    weather: fc.record({ temperatureC: ends(-60, 60), qnhHpa: ends(850, 1100) }),
    aircraft: fc.record({
      massKg: ends(100, 10_000),
      stallCleanKcas: ends(20, 150),
      stallLandingKcas: ends(20, 150),
      bestGlideKcas: ends(20, 200),
      landingRollFt: ends(50, 20_000),
    }),
    technique: fc.record({ bankDeg: ends(5, 70), targetKcas: ends(20, 200), stallMargin: ends(1, 2) }),
  });
  fc.assert(
    fc.property(header, ({ runway, weather, aircraft, technique }) => {
      const changed = {
        ...recording.header,
        runway: { ...bundle.runway, ...runway },
        weather: { ...bundle.weather, ...weather },
        aircraft: { ...bundle.aircraft, ...aircraft },
        scenario: { ...bundle.scenario, technique: { ...bundle.scenario.technique, ...technique } },
      };
      RecordingHeader.parse(changed);
      const score = scoreRecording({ ...recording, header: changed, samples: bare });
      Score.parse(score);
      expect(debriefText(score, changed)).not.toMatch(/NaN|Infinity|undefined|null/);
    }),
    { numRuns: 30, seed: 20_260_131 },
  );
});

test.each([0, 1, 2])('a recording of %d samples is scored as holding too little', (count) => {
  const { recording } = syntheticRecording(bundle, {});
  const score = scoreRecording({ ...recording, samples: recording.samples.slice(0, count), end: null });
  Score.parse(score);
  expect(score.overall).toBeNull();
});
