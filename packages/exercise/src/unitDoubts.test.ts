// Channels in a wrong unit or of the wrong sign are named, with figures and with where to look; right ones never are.
import type { Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { describe as words } from './describe.js';
import { armedTrial, climbSamples, fly, setupOf, type Trial } from './flight.fixture.js';

const RAD = Math.PI / 180;
const ELEVATION_FT = 312; // of the shelf's runway
const FT_PER_DEGREE = 60 * 6076.12; // of latitude
const doubtsIn = (trial: Trial) =>
  trial.events.filter(({ code, text }) => code === 'data-fault' && /in the link profile/.test(text));
const seaLevel = () => {
  const setup = setupOf();
  return { ...setup, runway: { ...setup.runway, elevationFt: 0 } };
};
/** The fixture's samples as a runway by the sea would have them. */
const bySea = (sample: Sample) => ({ ...sample, altitudeFt: sample.altitudeFt - ELEVATION_FT });

/** From 40 s the climb goes on in a steady turn, with the bank that it needs by the formula of the level turn. */
function turning(turnDegS: number): (sample: Sample) => Sample {
  let from: Sample | null = null;
  return (sample) => {
    if (sample.timeS < 40) return sample;
    from ??= sample;
    const forS = sample.timeS - from.timeS;
    const fps = sample.indicatedAirspeedKt * (6076.12 / 3600);
    const headingDeg = (((from.headingDeg + turnDegS * forS) % 360) + 360) % 360;
    const radiusFt = fps / (turnDegS * RAD);
    const northFt = radiusFt * (Math.sin((from.headingDeg + turnDegS * forS) * RAD) - Math.sin(from.headingDeg * RAD));
    const eastFt = radiusFt * (Math.cos(from.headingDeg * RAD) - Math.cos((from.headingDeg + turnDegS * forS) * RAD));
    return {
      ...sample,
      headingDeg,
      bankDeg: Math.atan((fps * turnDegS * RAD) / 32.174) / RAD,
      latitudeDeg: from.latitudeDeg + northFt / FT_PER_DEGREE,
      longitudeDeg: from.longitudeDeg + eastFt / FT_PER_DEGREE / Math.cos(from.latitudeDeg * RAD),
    };
  };
}

const within = { forS: 60 };

describe('of the vertical', () => {
  test.each([
    [
      'altitude in metres, no height channel',
      (s: Sample) => ({ ...bySea(s), altitudeFt: bySea(s).altitudeFt * 0.3048, heightFt: undefined }),
      /altitude seems to be in metres/,
    ],
    [
      'height in metres',
      (s: Sample) => ({ ...bySea(s), heightFt: (s.heightFt ?? 0) * 0.3048 }),
      /height seems to be in metres/,
    ],
    [
      'vertical speed in m/s',
      (s: Sample) => ({ ...bySea(s), verticalSpeedFpm: s.verticalSpeedFpm / 196.85 }),
      /vertical speed seems to be in m\/s/,
    ],
    [
      'vertical speed in ft/s',
      (s: Sample) => ({ ...bySea(s), verticalSpeedFpm: s.verticalSpeedFpm / 60 }),
      /vertical speed seems to be in ft\/s/,
    ],
    [
      'vertical speed in knots',
      (s: Sample) => ({ ...bySea(s), verticalSpeedFpm: s.verticalSpeedFpm / 101.27 }),
      /vertical speed seems to be in knots/,
    ],
    [
      'vertical speed down positive',
      (s: Sample) => ({ ...bySea(s), verticalSpeedFpm: -s.verticalSpeedFpm }),
      /vertical speed is of the other sign/,
    ],
  ])('%s: named, and nothing is fired on it', (_, onTheWay, text) => {
    const { trial } = fly(seaLevel(), { onTheWay: onTheWay as (s: Sample) => Sample, forS: 120 });
    const told = doubtsIn(trial);
    expect(told.map((event) => event.text)).toEqual([expect.stringMatching(text)]);
    expect(Object.values(told[0]?.figures ?? {}).every(Number.isFinite)).toBe(true);
    expect(words(trial.state).text).toMatch(text);
    expect(words(trial.state).next).toMatch(/in the link profile/);
    expect(trial.sends).toEqual([]);
  });
});

describe('on the ground', () => {
  test.each([
    ['sent', {}],
    ['not sent', { heightFt: undefined }],
  ])('altitude in metres is told where height is %s', (_, change) => {
    const trial = armedTrial();
    for (const sample of climbSamples(5)) {
      const metres = { ...sample, altitudeFt: sample.altitudeFt * 0.3048, ...change } as unknown as Sample;
      trial.give({ kind: 'sample', sample: metres, receivedS: sample.timeS });
    }
    expect(words(trial.state).text).toBe(
      'Armed, but the data say an altitude of 95 ft where the runway lies at 312 ft: altitude seems to be in metres.',
    );
  });
  test('and is recorded at the lift-off, and holds the failure back', () => {
    const metres = (sample: Sample) => ({ ...sample, altitudeFt: sample.altitudeFt * 0.3048 });
    const { trial } = fly(setupOf(), { onTheWay: metres, forS: 100 });
    expect(doubtsIn(trial)[0]?.figures).toEqual({ altitudeFt: 312 * 0.3048, elevationFt: 312 });
    expect(trial.sends).toEqual([]);
  });
});

describe('of speed', () => {
  test.each([
    ['airspeed in m/s', { indicatedAirspeedKt: 0.5144 }, /Airspeed tells .* in flight.*seems to be in m\/s/],
    ['airspeed in km/h', { indicatedAirspeedKt: 1.852 }, /Airspeed tells .* in flight.*seems to be in km\/h/],
    ['groundspeed in m/s', { groundspeedKt: 0.5144 }, /Groundspeed tells .*seems to be in m\/s/],
    ['groundspeed in km/h', { groundspeedKt: 1.852 }, /Groundspeed tells .*seems to be in km\/h/],
  ])('%s: named', (_, factors, text) => {
    const onTheWay = (sample: Sample) => {
      const entries = Object.entries(factors).map(([name, factor]) => [
        name,
        (sample[name as keyof Sample] as number) * factor,
      ]);
      return { ...sample, ...Object.fromEntries(entries) } as Sample;
    };
    const { trial } = fly(setupOf(), { onTheWay, ...within });
    // In the take-off roll it may have been told already that the two speeds do not go together.
    expect(doubtsIn(trial).at(-1)?.text).toMatch(text);
    expect(doubtsIn(trial).length).toBeLessThanOrEqual(2);
  });
});

describe('of attitude', () => {
  test('heading in radians: named', () => {
    const onTheWay = (sample: Sample) => ({ ...sample, headingDeg: sample.headingDeg * RAD });
    const { trial } = fly(setupOf(), { onTheWay, ...within });
    expect(doubtsIn(trial).map(({ text }) => text)).toEqual([expect.stringMatching(/heading seems to be in radians/)]);
  });
  test.each([4, -4])('bank in radians in a turn of %s °/s: named', (turnDegS) => {
    const turned = turning(turnDegS);
    const onTheWay = (sample: Sample) => {
      const right = turned(sample);
      return { ...right, bankDeg: right.bankDeg * RAD };
    };
    const { trial } = fly(setupOf(), { onTheWay, ...within });
    expect(doubtsIn(trial).map(({ text }) => text)).toEqual([
      expect.stringMatching(/Bank tells .*seems to be in radians/),
    ]);
    // 92 kt and 4 degrees a second: atan(155 × 0.0698 / 32.17) is 18.6 degrees.
    expect(Math.abs(doubtsIn(trial)[0]?.figures?.neededDeg ?? 0)).toBeCloseTo(18.6, 0);
  });
  test.each([4, -4])('bank of the other sign in a turn of %s °/s: named', (turnDegS) => {
    const turned = turning(turnDegS);
    const onTheWay = (sample: Sample) => {
      const right = turned(sample);
      return { ...right, bankDeg: -right.bankDeg };
    };
    const { trial } = fly(setupOf(), { onTheWay, ...within });
    expect(doubtsIn(trial).map(({ text }) => text)).toEqual([expect.stringMatching(/Bank tells .*of the other sign/)]);
  });
});

test('a right stream is never doubted: climbs, turns, winds, rates, values rounded as links send them', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(-8, -4, -1, 1, 4, 8),
      fc.constantFrom(5, 10, 20, 60),
      fc.integer({ min: -35, max: 35 }),
      fc.boolean(),
      (turnDegS, rateHz, windKt, rounded) => {
        const turned = turning(turnDegS);
        const onTheWay = (sample: Sample) => {
          const right = turned(sample);
          // Steady air that drifts along the meridian.
          const latitudeDeg = right.latitudeDeg + (windKt * (6076.12 / 3600) * sample.timeS) / FT_PER_DEGREE;
          const { groundspeedKt: _, ...told } = { ...right, latitudeDeg };
          if (!rounded) return told;
          const places = (value: number, digits: number) => Number(value.toFixed(digits));
          return {
            ...told,
            latitudeDeg: places(told.latitudeDeg, 5),
            longitudeDeg: places(told.longitudeDeg, 5),
            altitudeFt: Math.round(told.altitudeFt),
            verticalSpeedFpm: Math.round(told.verticalSpeedFpm / 64) * 64,
            headingDeg: Math.round(told.headingDeg) % 360,
            bankDeg: Math.round(told.bankDeg),
          };
        };
        const { trial } = fly(setupOf(), { onTheWay, rateHz, forS: 75 });
        expect(doubtsIn(trial)).toEqual([]);
        expect(trial.codes).toContain('fail-commanded');
      },
    ),
    { numRuns: 25 },
  );
});
