// Heights are counted as the exercise counted them: what it set aside on the ground is set aside here too.
import type { RecordedEvent, Recording } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { scoreRecording } from './scoreRecording.js';
import { shelfBundle } from './shelf.fixture.js';
import { syntheticRecording } from './synthetic.fixture.js';

const bundle = shelfBundle('first-turn-back');
const { elevationFt } = bundle.runway;
const { recording } = syntheticRecording(bundle, { failAtFt: 1000 });
const truthFt = scoreRecording(recording).failure?.heightFt ?? Number.NaN;

/** The same flight told by channels that are off, with the exercise's word of what it counted by. */
function told(heightOffFt: number, altitudeOffFt: number, figures: Record<string, number> | null): Recording {
  const samples = recording.samples.map((sample) => ({
    ...sample,
    altitudeFt: sample.altitudeFt + altitudeOffFt,
    heightFt: (sample.heightFt ?? 0) + heightOffFt,
  }));
  const event = { kind: 'event', timeS: 0, code: 'data-fault', text: 'Set aside.' } as const;
  const events: RecordedEvent[] = figures === null ? [] : [{ ...event, figures }];
  return { ...recording, samples, events: [...events, ...recording.events] };
}

test.each([
  ['a height 280 ft off', told(280, 0, { heightAside: 1 })],
  ['both off', told(280, 120, { heightAside: 1, zeroAltitudeFt: elevationFt + 120 })],
  ['an altitude off beside a good height', told(0, 120, { zeroAltitudeFt: elevationFt + 120 })],
])('with %s the power is lost at the height at which it was', (_, each) => {
  expect(Math.abs((scoreRecording(each).failure?.heightFt ?? 0) - truthFt)).toBeLessThanOrEqual(2);
});

test('without the word of the exercise the height channel is believed, and a fault without these figures changes nothing', () => {
  expect(Math.abs((scoreRecording(told(280, 0, null)).failure?.heightFt ?? 0) - truthFt - 280)).toBeLessThanOrEqual(2);
  expect(scoreRecording(told(0, 0, { gapS: 3 })).failure?.heightFt).toBe(truthFt);
});
