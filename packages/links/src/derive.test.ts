// Derived channels: right in steady flight, late by what they state, held at standstill, missing where too little is known.
import { CHANNEL_BOUNDS, Derivation, type LinkProfile } from '@stillprop/contracts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { DecodeFault } from './decode.js';
import { createDeriver } from './derive.js';
import { fixtureProfile } from './links.fixture.js';
import type { SamplePart } from './partFromRow.js';

const base = fixtureProfile('example-tcp-lines');
const profileOf = (...derived: object[]): LinkProfile => ({
  ...base,
  derived: derived.map((each) => Derivation.parse(each)),
});

/** What the derivations make of parts, one after the other. */
function derivedFrom(
  parts: readonly SamplePart[],
  derived: readonly object[],
  wind?: { fromTrueDeg: number; speedKt: number },
) {
  const derive = createDeriver(profileOf(...derived), wind === undefined ? {} : { wind });
  const faults: DecodeFault[] = [];
  return {
    parts: parts.map((part) => {
      const copy = { ...part };
      derive?.(copy, Number.NaN, faults);
      return copy;
    }),
    faults,
  };
}
const every = (stepS: number, count: number, part: (timeS: number) => SamplePart) =>
  Array.from({ length: count }, (_, index) => ({ timeS: index * stepS, ...part(index * stepS) }));

describe('vertical speed from altitude', () => {
  const derived = [{ channel: 'verticalSpeedFpm', windowS: 1 }];
  test('is that of a straight climb at any rate of samples, even or not', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3000, max: 3000, noNaN: true }),
        fc.array(fc.double({ min: 0.02, max: 0.9, noNaN: true }), { minLength: 20, maxLength: 60 }),
        (fpm, stepsS) => {
          let timeS = 100;
          const parts = stepsS.map((stepS) => {
            timeS += stepS;
            return { timeS, altitudeFt: 1000 + (fpm / 60) * timeS };
          });
          const last = derivedFrom(parts, derived).parts.at(-1);
          expect(last?.verticalSpeedFpm).toBeCloseTo(fpm, 5);
        },
      ),
    );
  });
  test('lags by half of its window where the climb changes steadily', () => {
    // Altitude t² ft rises at 2t ft/s: half a second late, the slope at time t is that of t − 0.5 s.
    const { parts } = derivedFrom(
      every(0.05, 200, (timeS) => ({ altitudeFt: timeS ** 2 })),
      derived,
    );
    const last = parts.at(-1);
    expect(last?.verticalSpeedFpm).toBeCloseTo(2 * ((last?.timeS ?? 0) - 0.5) * 60, 0);
  });
  test('looks only back: what comes later changes nothing', () => {
    const parts = every(0.1, 60, (timeS) => ({ altitudeFt: 900 + 100 * Math.sin(timeS) }));
    const early = derivedFrom(parts.slice(0, 30), derived).parts;
    expect(derivedFrom(parts, derived).parts.slice(0, 30)).toEqual(early);
  });
  test('doubled and late times give nothing and spoil nothing', () => {
    const parts = every(0.1, 30, (timeS) => ({ altitudeFt: 10 * timeS }));
    const mixed = parts.flatMap((part, index) =>
      index % 5 === 4 ? [part, part, { ...part, timeS: (part.timeS ?? 0) - 0.25, altitudeFt: 5000 }] : [part],
    );
    const { parts: out } = derivedFrom(mixed, derived);
    expect(
      out.filter(({ altitudeFt }) => altitudeFt === 5000).every((part) => part.verticalSpeedFpm === undefined),
    ).toBe(true);
    expect(out.at(-1)).not.toHaveProperty('verticalSpeedFpm'); // the last is a late one
    const good = out.filter(({ verticalSpeedFpm }) => verticalSpeedFpm !== undefined);
    expect(good.length).toBeGreaterThan(20);
    for (const { verticalSpeedFpm } of good) expect(verticalSpeedFpm).toBeCloseTo(600, 5);
  });
  test('is missing at first and after a gap, and starts anew when time goes back', () => {
    const climb = (fromS: number) =>
      every(0.1, 20, (timeS) => ({ altitudeFt: 10 * timeS })).map((part) => ({ ...part, timeS: part.timeS + fromS }));
    const { parts } = derivedFrom([...climb(500), ...climb(600), ...climb(0)], derived);
    const firsts = [0, 20, 40].map((at) => parts.slice(at, at + 5));
    for (const part of firsts.flat()) expect(part).not.toHaveProperty('verticalSpeedFpm');
    for (const at of [19, 39, 59]) expect(parts[at]?.verticalSpeedFpm).toBeCloseTo(600, 5);
  });
  test('a link with less than one sample in a window has enough with two', () => {
    const { parts } = derivedFrom(
      every(1.2, 6, (timeS) => ({ altitudeFt: 20 * timeS })),
      derived,
    );
    expect(parts.at(-1)?.verticalSpeedFpm).toBeCloseTo(1200, 5);
  });
  test('a jump gives no climb beyond the bounds, but a fault', () => {
    const { faults, parts } = derivedFrom(
      every(0.1, 40, (timeS) => ({ altitudeFt: timeS < 2 ? 0 : 50_000 })),
      derived,
    );
    expect(faults).toContainEqual({ code: 'out-of-range', channel: 'verticalSpeedFpm' });
    const [low, high] = CHANNEL_BOUNDS.verticalSpeedFpm;
    for (const { verticalSpeedFpm = 0 } of parts)
      expect(verticalSpeedFpm >= low && verticalSpeedFpm <= high).toBe(true);
  });
});

describe('motion from position', () => {
  const derived = [{ channel: 'groundspeedKt' }, { channel: 'trackDeg' }];
  // One minute of latitude is 1 852.2 m on the WGS 84 ellipsoid at 45° (length of a degree there: 111 132 m, tables of the
  // ellipsoid), so a degree an hour is 60 kt within 0.1 %; of longitude at 60°, 55 800 m a degree, 30.1 kt.
  test.each([
    ['north at 45°', { latitudeDeg: 45, longitudeDeg: 0 }, { latitudeDeg: 1 / 36, longitudeDeg: 0 }, 60.007, 0],
    ['west at 60°', { latitudeDeg: 60, longitudeDeg: 10 }, { latitudeDeg: 0, longitudeDeg: -1 / 18 }, 60.26, 270],
    [
      'east over the date line',
      { latitudeDeg: 60, longitudeDeg: 179.999 },
      { latitudeDeg: 0, longitudeDeg: 1 / 18 },
      60.26,
      90,
    ],
  ])('%s', (_, from, perHundredS, speedKt, trackDeg) => {
    const { parts } = derivedFrom(
      every(0.1, 50, (timeS) => {
        const longitudeDeg = from.longitudeDeg + (perHundredS.longitudeDeg * timeS) / 100;
        return {
          latitudeDeg: from.latitudeDeg + (perHundredS.latitudeDeg * timeS) / 100,
          longitudeDeg: longitudeDeg > 180 ? longitudeDeg - 360 : longitudeDeg,
        };
      }),
      derived,
    );
    expect(parts.at(-1)?.groundspeedKt).toBeCloseTo(speedKt, 1);
    expect(parts.at(-1)?.trackDeg).toBeCloseTo(trackDeg, 1);
  });
  test('track is missing before the first movement and held at standstill', () => {
    const still = every(0.1, 30, () => ({ latitudeDeg: 52, longitudeDeg: -1 }));
    const moving = every(0.1, 50, (timeS) => ({ latitudeDeg: 52, longitudeDeg: -1 + timeS * 1e-3 }));
    const after = every(0.1, 50, () => ({ latitudeDeg: 52, longitudeDeg: -1 + 4.9e-3 }));
    const at = (parts: readonly SamplePart[], fromS: number) =>
      parts.map((part) => ({ ...part, timeS: (part.timeS ?? 0) + fromS }));
    const { parts } = derivedFrom([...still, ...at(moving, 3), ...at(after, 8)], derived);
    expect(parts[29]).not.toHaveProperty('trackDeg');
    expect(parts[29]?.groundspeedKt).toBeCloseTo(0, 9);
    expect(parts.at(-1)?.groundspeedKt).toBeCloseTo(0, 9);
    expect(parts.at(-1)?.trackDeg).toBeCloseTo(90, 2);
  });
});

describe('motion through the air', () => {
  const derived = [{ channel: 'trueAirspeedKt' }, { channel: 'headingDeg' }, { channel: 'indicatedAirspeedKt' }];
  const flown = [{ timeS: 1, groundspeedKt: 80, trackDeg: 360, altitudeFt: 0 }];
  test.each([
    ['headwind', { fromTrueDeg: 0, speedKt: 20 }, 100, 0],
    ['tailwind', { fromTrueDeg: 180, speedKt: 20 }, 60, 0],
    // 80 kt over the ground and 60 kt from the right make the sides of a right angle: 3-4-5, 36.87° to the right.
    ['wind from the right', { fromTrueDeg: 90, speedKt: 60 }, 100, 36.8699],
    ['wind from the left', { fromTrueDeg: 270, speedKt: 60 }, 100, 323.1301],
  ])('%s', (_, wind, airspeedKt, headingDeg) => {
    const [part] = derivedFrom(flown, derived, wind).parts;
    expect(part?.trueAirspeedKt).toBeCloseTo(airspeedKt, 6);
    expect(part?.headingDeg).toBeCloseTo(headingDeg, 3);
    expect(part?.indicatedAirspeedKt).toBeCloseTo(airspeedKt, 6); // at sea level in standard air the two are one
  });
  test('indicated airspeed falls with the root of density', () => {
    const wind = { fromTrueDeg: 0, speedKt: 0 };
    const [part] = derivedFrom([{ ...flown[0], altitudeFt: 10_000 }], derived, wind).parts;
    // Printed density ratio at 10 000 ft: 0.7385 (ISA table of "Aerodynamics for Students", University of Sydney).
    expect(part?.indicatedAirspeedKt).toBeCloseTo(80 * Math.sqrt(0.7385), 1);
  });
  test('down a path the airspeed is that along it', () => {
    // 3, 4, 5: over the ground 80 kt, down 60 kt, along the path 100 kt.
    const down = { groundspeedKt: 80, trackDeg: 90, verticalSpeedFpm: (-60 * 1852) / 0.3048 / 60 };
    const { parts } = derivedFrom([{ timeS: 1, ...down }], [{ channel: 'trueAirspeedKt' }], {
      fromTrueDeg: 0,
      speedKt: 0,
    });
    expect(parts[0]?.trueAirspeedKt).toBeCloseTo(100, 9);
  });
  test('at standstill without a direction the air moves as the wind does; moving without one, nothing is known', () => {
    const wind = { fromTrueDeg: 200, speedKt: 12 };
    const parts = [
      { timeS: 1, groundspeedKt: 0 },
      { timeS: 2, groundspeedKt: 40 },
    ];
    const derived = derivedFrom(parts, [{ channel: 'trueAirspeedKt' }], wind).parts;
    expect(derived[0]?.trueAirspeedKt).toBeCloseTo(12, 9);
    expect(derived[1]).not.toHaveProperty('trueAirspeedKt');
  });
  test('a wind that becomes known later counts from then on', () => {
    let wind: { fromTrueDeg: number; speedKt: number } | null = null;
    const circumstances = {
      get wind() {
        return wind;
      },
    };
    const derive = createDeriver(profileOf(...derived), circumstances);
    const before: SamplePart = { ...flown[0] };
    derive?.(before, 0, []);
    wind = { fromTrueDeg: 0, speedKt: 20 };
    const after: SamplePart = { ...flown[0] };
    derive?.(after, 0, []);
    expect([before.trueAirspeedKt, after.trueAirspeedKt]).toEqual([undefined, expect.closeTo(100, 6)]);
  });
  test('the wind of the profile goes before that of the scenario; with neither, nothing is guessed', () => {
    const own = derived.map((each) => ({ ...each, wind: { fromTrueDeg: 0, speedKt: 10 } }));
    expect(derivedFrom(flown, own, { fromTrueDeg: 0, speedKt: 30 }).parts[0]?.trueAirspeedKt).toBeCloseTo(90, 9);
    expect(derivedFrom(flown, derived).parts).toEqual(flown);
  });
});

test('height is altitude less the elevation given', () => {
  const { parts } = derivedFrom(
    [{ timeS: 0, altitudeFt: 1212 }, { timeS: 1 }],
    [{ channel: 'heightFt', elevationFt: 312 }],
  );
  expect(parts).toEqual([{ timeS: 0, altitudeFt: 1212, heightFt: 900 }, { timeS: 1 }]);
});

test('a profile without derivations has nothing to do', () => {
  expect(createDeriver({ ...base, derived: [] }, {})).toBeNull();
});
