// The replay's clock: real time times its speed, from the start after the end, never beyond either.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { played, REPLAY_SPEEDS, within } from './replay.js';

const span = { fromS: 55, toS: 118 };

test.each(REPLAY_SPEEDS)('a second of frames at %d times shows so much of the flight', (speed) => {
  let atS = 60;
  for (let frame = 0; frame < 60; frame++) atS = played(atS, 1 / 60, speed, span).atS;
  expect(atS).toBeCloseTo(60 + speed, 9);
});

test('it ends at the end, and begins at the start from there or from outside', () => {
  expect(played(117.99, 0.1, 1, span)).toEqual({ atS: 118, ended: true });
  expect(played(118, 0, 1, span)).toEqual({ atS: 55, ended: false });
  expect(played(null, 0, 1, span).atS).toBe(55);
  expect(played(3, 0, 1, span).atS).toBe(55);
});

test('a tab that slept for a minute goes on where it was seen last', () => {
  expect(played(60, 60, 1, span).atS).toBeCloseTo(60.25, 9);
});

test('no frame and no step leaves the span', () => {
  const any = fc.double({ noNaN: true, min: -1e6, max: 1e6 });
  fc.assert(
    fc.property(fc.option(any), any, fc.constantFrom(...REPLAY_SPEEDS), (atS, byS, speed) => {
      for (const shownS of [played(atS, byS, speed, span).atS, within(byS, span)]) {
        expect(shownS).toBeGreaterThanOrEqual(span.fromS);
        expect(shownS).toBeLessThanOrEqual(span.toS);
      }
    }),
  );
});
