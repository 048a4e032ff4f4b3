// Whether the intervals hold the truth where the wind is estimated: glides long and short, in smooth and in rough air.
import { randomSource } from '@stillprop/physics';
import { expect, test } from 'vitest';
import { fitGlide } from './fitGlide.js';
import { glideRecording, TURNSTONE, USUAL_NOISE } from './glide.fixture.js';

const GLIDES = 96;
/** Instruments of a simulator: what a link rounds off, hardly more. */
const FINE_NOISE = { altitudeFt: 0.1, airspeedKt: 0.05, bankDeg: 0.05, loadFactor: 0.002, positionM: 0.05 };

/** One invented aeroplane in a wind that the recording tells nothing of; short: a turn back from some 1000 ft. */
function glideInWind(seed: number) {
  const random = randomSource(1000 + seed);
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  const short = seed % 2 === 0;
  const rough = seed % 8 < 2;
  const bestGlideRatio = between(8.5, 12);
  const lastsS = short ? between(32, 42) : between(80, 120);
  const side = random.uniform() < 0.5 ? -1 : 1;
  const recording = glideRecording({
    flown: { ...TURNSTONE, bestGlideRatio, bestGlideKcas: between(92, 110) },
    file: TURNSTONE,
    holds: [
      { fromS: 0, kcas: between(97, 112), bankDeg: 0 },
      { fromS: lastsS * 0.35, kcas: between(78, 88), bankDeg: short ? 45 * side : 0 },
      ...(short ? [] : [{ fromS: lastsS * 0.65, kcas: between(85, 100), bankDeg: between(15, 40) * side }]),
    ],
    weather: {
      temperatureC: 15,
      qnhHpa: 1013.25,
      winds: [{ heightFt: 33, fromTrueDeg: between(0, 360), speedKt: between(3, 18) }],
    },
    toldWeather: { temperatureC: 15, qnhHpa: 1013.25, winds: [] },
    startFt: short ? between(800, 1300) : between(1500, 2500),
    lastsS,
    seed,
    noise: seed % 4 < 2 ? USUAL_NOISE : FINE_NOISE,
    ...(rough ? { gustsOfKt: between(2, 8) } : {}),
  });
  return { bestGlideRatio, short, rough, fine: seed % 4 >= 2, fit: fitGlide(recording, { wind: 'estimated' }) };
}

test('with the wind estimated the 95 % interval of the glide ratio holds the truth in 90 to 100 %, and tells something', () => {
  let told = 0;
  let inside = 0;
  const longFine: number[] = [];
  const shortFine: number[] = [];
  for (let seed = 1; seed <= GLIDES; seed++) {
    const { bestGlideRatio, short, rough, fine, fit } = glideInWind(seed);
    if (!fit.ok) {
      expect(short, fit.problem.message).toBe(true); // too little of it left, and said so
      continue;
    }
    const { interval95, value } = fit.value.bestGlideRatio;
    if (interval95 === null) throw new Error('the ratio always has an interval');
    told++;
    if (interval95.low <= bestGlideRatio && bestGlideRatio <= interval95.high) inside++;
    const halfPercent = ((interval95.high - interval95.low) / 2 / value) * 100;
    if (fine && !rough) (short ? shortFine : longFine).push(halfPercent);
  }
  expect(told).toBeGreaterThanOrEqual(60);
  expect(inside / told).toBeGreaterThanOrEqual(0.9);
  // Half widths (%): in smooth air a long glide tells the ratio to well under one per cent.
  const middle = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
  expect(longFine.length).toBeGreaterThan(15);
  expect(Math.max(...longFine)).toBeLessThan(1);
  expect(middle(longFine)).toBeLessThan(0.4);
  expect(middle(shortFine)).toBeLessThan(2);
});
