import fc from 'fast-check';
import { expect, test } from 'vitest';
import { otherEndName, planDirection, planFrame, roundLength, unbrokenPieces } from './planFrame.js';

const area = { x: 10, y: 20, width: 700, height: 200 };

test('the plan is to scale, take-off runs to the right and right of it downwards', () => {
  const frame = planFrame({ alongFromFt: -700, alongToFt: 8700, acrossFromFt: -500, acrossToFt: 1500 }, area);
  const start = frame.toPx(0, 0);
  const ahead = frame.toPx(1000, 0);
  const right = frame.toPx(0, 1000);
  expect(ahead.x - start.x).toBeCloseTo(1000 * frame.pxPerFt, 9);
  expect(right.y - start.y).toBeCloseTo(1000 * frame.pxPerFt, 9);
  expect(ahead.y).toBe(start.y);
});

test('all that has to be seen lies inside the area', () => {
  const ft = fc.integer({ min: -20_000, max: 20_000 });
  fc.assert(
    fc.property(ft, ft, ft, ft, (a, b, c, d) => {
      const bounds = {
        alongFromFt: Math.min(a, b),
        alongToFt: Math.max(a, b),
        acrossFromFt: Math.min(c, d),
        acrossToFt: Math.max(c, d),
      };
      const frame = planFrame(bounds, area);
      for (const [along, across] of [
        [bounds.alongFromFt, bounds.acrossFromFt],
        [bounds.alongToFt, bounds.acrossToFt],
      ] as const) {
        const { x, y } = frame.toPx(along, across);
        expect(x).toBeGreaterThanOrEqual(area.x - 1e-6);
        expect(x).toBeLessThanOrEqual(area.x + area.width + 1e-6);
        expect(y).toBeGreaterThanOrEqual(area.y - 1e-6);
        expect(y).toBeLessThanOrEqual(area.y + area.height + 1e-6);
      }
    }),
  );
});

test('a headwind on runway 24 blows to the left, one from the right of it upwards', () => {
  const headwind = planDirection(238 + 180, 238);
  expect([headwind.x, headwind.y].map((part) => Math.round(part * 1000) / 1000 + 0)).toEqual([-1, 0]);
  // From 328° true, that is from the right when heading 238°: it blows towards the left side, up on the plan.
  const fromRight = planDirection(328 + 180, 238);
  expect(fromRight.y).toBeCloseTo(-1, 9);
});

test.each([
  ['24', '06'],
  ['09', '27'],
  ['36', '18'],
  ['18', '36'],
  ['04L', '22R'],
  ['22R', '04L'],
  ['13C', '31C'],
  ['7', '25'],
])('the other end of runway %s is %s', (name, other) => {
  expect(otherEndName(name)).toBe(other);
});
test.each(['00', '37', 'north', '', '24X'])('"%s" is no runway number, so the other end has none', (name) => {
  expect(otherEndName(name)).toBeNull();
});

test.each([
  [1300, 1000],
  [2600, 2000],
  [999, 500],
  [5000, 5000],
  [0.7, 0.5],
])('the round length within %s is %s', (most, length) => {
  expect(roundLength(most)).toBeCloseTo(length, 9);
});

test('a line breaks where its points are missing', () => {
  const p = (x: number) => ({ x, y: 0 });
  expect(unbrokenPieces([p(0), p(1), null, p(2), null, p(3), p(4)])).toEqual([
    [p(0), p(1)],
    [p(3), p(4)],
  ]);
});
