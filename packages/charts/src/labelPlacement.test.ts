import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  aroundPoint,
  type Box,
  boxDistance,
  clearance,
  contains,
  type Point,
  placeLabel,
  thinned,
} from './labelPlacement.js';

const area: Box = { x: 0, y: 0, width: 200, height: 100 };
const size = { width: 40, height: 12 };
const point = fc.record({
  x: fc.double({ min: 0, max: 200, noNaN: true }),
  y: fc.double({ min: 0, max: 100, noNaN: true }),
});

/** Does any of many points along the line lie inside the box? Written apart from the code under test. */
function covers(box: Box, line: readonly Point[]): boolean {
  for (let i = 1; i < line.length; i++) {
    const a = line[i - 1] as Point;
    const b = line[i] as Point;
    for (let k = 0; k <= 400; k++) {
      const x = a.x + ((b.x - a.x) * k) / 400;
      const y = a.y + ((b.y - a.y) * k) / 400;
      if (x > box.x && x < box.x + box.width && y > box.y && y < box.y + box.height) return true;
    }
  }
  return false;
}

test('a placed label lies in the area and covers no line and no other label', () => {
  let placed = 0;
  fc.assert(
    fc.property(point, fc.array(point, { minLength: 2, maxLength: 6 }), point, (at, line, corner) => {
      const other = { ...corner, width: 30, height: 12 };
      const box = placeLabel(aroundPoint(at, size, [6, 14, 30]), area, { lines: [line], boxes: [other] }, 3);
      if (!box) return;
      placed++;
      expect(contains(area, box)).toBe(true);
      expect(covers(box, line)).toBe(false);
      expect(boxDistance(box, other)).toBeGreaterThan(0);
    }),
  );
  expect(placed).toBeGreaterThan(20);
});

test('the first candidate with enough room is taken; one that only just misses is better than none', () => {
  const line = [
    { x: 0, y: 50 },
    { x: 200, y: 50 },
  ];
  const above = (gap: number) => ({ x: 80, y: 50 - gap - 12, width: 40, height: 12 });
  const lines = { lines: [line], boxes: [] };
  expect(placeLabel([above(1), above(5), above(9)], area, lines, 4)).toEqual(above(5));
  expect(placeLabel([above(1), above(3)], area, lines, 4)).toEqual(above(3));
  expect(placeLabel([above(-3)], area, lines, 4)).toBeNull();
});

test('a line that passes right through a box, with no point inside it, still blocks it', () => {
  const box = { x: 90, y: 40, width: 20, height: 10 };
  expect(
    clearance(box, {
      lines: [
        [
          { x: 0, y: 45 },
          { x: 200, y: 45 },
        ],
      ],
      boxes: [],
    }),
  ).toBe(0);
});

test('clearance is the distance to the nearest thing', () => {
  const box = { x: 50, y: 40, width: 20, height: 10 };
  expect(
    clearance(box, {
      lines: [
        [
          { x: 0, y: 57 },
          { x: 200, y: 57 },
        ],
      ],
      boxes: [],
    }),
  ).toBeCloseTo(7, 9);
  expect(clearance(box, { lines: [], boxes: [{ x: 73, y: 54, width: 5, height: 5 }] })).toBeCloseTo(5, 9);
});

test('thinning keeps both ends', () => {
  const line = Array.from({ length: 101 }, (_, i) => ({ x: i, y: 0 }));
  const thin = thinned(line, 10);
  expect(thin[0]).toEqual({ x: 0, y: 0 });
  expect(thin.at(-1)).toEqual({ x: 100, y: 0 });
  expect(thin.length).toBe(11);
});
