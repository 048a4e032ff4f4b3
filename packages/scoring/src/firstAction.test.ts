// What is no action of the pilot's: steps of channels that the nose does not share.
import type { Recording, Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { attemptOf } from './attempt.js';
import { delayCriterion } from './criteria/delay.js';
import { shelfBundle } from './shelf.fixture.js';
import { syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const SINK_FPM = -900;

interface Told {
  /** Bank begins so long after the loss; null: never. */
  readonly bankAfterS: number | null;
  readonly rateHz?: number;
  /** Speed lost in each second after the loss, down to 80 kt. */
  readonly slowsKtPerS?: number;
  readonly without?: readonly (keyof Sample)[];
}

/** Pitch stands at 5° throughout; vertical speed steps from climb to sink at the loss; bank comes later, or not at all. */
function stepped({ bankAfterS, rateHz = 20, slowsKtPerS = 0, without = [] }: Told) {
  const { recording, truth } = syntheticRecording(bundle, { rateHz });
  const { lossS } = truth;
  const lossFt = 1000;
  const samples = recording.samples.map((sample): Sample => {
    const since = sample.timeS - lossS;
    const flying: Sample = { ...sample, pitchDeg: 5 };
    for (const channel of without) delete flying[channel];
    if (since < 0 || sample.timeS >= truth.contactS) return flying;
    const heightFt = Math.max(20, lossFt + (SINK_FPM / 60) * since);
    const rolled = bankAfterS === null ? 0 : Math.max(0, Math.min(45, 15 * (since - bankAfterS)));
    const speedKt = Math.max(80, 92 - slowsKtPerS * since);
    return {
      ...flying,
      heightFt,
      altitudeFt: heightFt + bundle.runway.elevationFt,
      verticalSpeedFpm: SINK_FPM,
      indicatedAirspeedKt: speedKt,
      ...(without.includes('trueAirspeedKt') ? {} : { trueAirspeedKt: speedKt }),
      ...(without.includes('loadFactor') ? {} : { loadFactor: 1 / Math.cos((rolled * Math.PI) / 180) }),
      bankDeg: rolled,
    };
  });
  const attempt = attemptOf({ ...recording, samples } satisfies Recording);
  return {
    ...attempt.moments,
    delayS: (attempt.moments.firstActionS ?? Number.NaN) - lossS,
    delay: delayCriterion(attempt),
  };
}

const BARE = ['loadFactor', 'trueAirspeedKt'] as const;
test.each([
  ['with everything told', {}],
  ['with load factor and true airspeed not told', { without: BARE }],
  ['at 5 samples a second', { rateHz: 5, without: BARE }],
  ['at 50 samples a second', { rateHz: 50, without: BARE }],
  ['while the speed falls', { slowsKtPerS: 3, without: BARE }],
  ['while the speed falls, with everything told', { slowsKtPerS: 3 }],
] as const)('a step of the vertical speed at the loss is no action, %s: the bank 3 s later is the first', (_, told) => {
  const found = stepped({ bankAfterS: 3, ...told });
  expect(found.control).toBe('bank');
  expect(Math.abs(found.delayS - 3)).toBeLessThan('rateHz' in told && told.rateHz === 5 ? 0.35 : 0.15);
  expect(found.delay.text).toContain('bank into the turn');
});

test.each([
  ['with everything told', {}],
  ['with load factor and true airspeed not told', { without: BARE }],
  ['while the speed falls', { slowsKtPerS: 3, without: BARE }],
] as const)('and where no bank follows either, %s, nothing was done', (_, told) => {
  expect(stepped({ bankAfterS: null, ...told }).firstActionS).toBeNull();
});
