// Channels that stay as they are while the aeroplane flies tell nothing of the ground, and are left aside.
import type { Recording, Sample } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { flownRecording } from './flown.fixture.js';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';

const flown = flownRecording(shelfBundle('first-turn-back'), 900, {});
const changed = (change: (sample: Sample) => Partial<Sample>): Recording => ({
  ...flown,
  samples: flown.samples.map((sample) => ({ ...sample, ...change(sample) })),
});
const without = ({ onGround: _, ...rest }: Sample) => rest;

test.each<[string, Recording]>([
  [
    'a height above the ground of 0',
    { ...flown, samples: flown.samples.map((s) => ({ ...without(s), heightAboveGroundFt: 0 })) },
  ],
  ['a flag that says ground all the time', changed(() => ({ onGround: true }))],
])('%s is no reason to score nothing', (_, recording) => {
  const { overall, outcome, criteria } = scoreRecording(recording);
  const told = scoreRecording({ ...flown, samples: flown.samples.map(without) });
  expect([overall, outcome, criteria]).toEqual([told.overall, told.outcome, told.criteria]);
  expect(overall).toBeGreaterThan(80);
});
