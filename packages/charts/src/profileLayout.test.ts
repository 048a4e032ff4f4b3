// The profile of an invented flight: places and heights to their scales, marks where they happened, labels apart.
import { expect, test } from 'vitest';
import { profileLayout, profilePoint } from './profileLayout.js';
import { teardrop } from './teardrop.fixture.js';

const { trace, score } = teardrop();
const runway = {
  name: '24',
  lengthFt: 4600,
  widthFt: 75,
  headingTrueDeg: 238,
  elevationFt: 312,
  surface: 'paved',
  airfield: { beyondEndFt: 700, besideFt: 500 },
} as const;
const area = { x: 30, y: 20, width: 600, height: 150 };
const measure = (text: string) => ({ width: 7 * text.length, height: 15 });
const layout = profileLayout(trace, score, runway, area, measure);
if (layout === null) throw new Error('no layout');

test('heights go up from the ground, distances to the right, each by one scale', () => {
  const at = layout.toPx(0, 0);
  const [runwayFrom, runwayTo] = layout.runway;
  expect(runwayFrom).toEqual(at);
  const pxPerFt = (runwayTo.x - runwayFrom.x) / runway.lengthFt;
  const up = layout.toPx(1000, 500);
  expect(up.x - at.x).toBeCloseTo(1000 * pxPerFt, 6);
  expect(at.y - up.y).toBeCloseTo(500 * pxPerFt * layout.exaggeration, 6);
  expect(at.y).toBe(area.y + area.height);
});

test('everything flown lies inside the area, and fills more than half of one side of it', () => {
  const points = [...layout.before, ...layout.after].flat();
  for (const { x, y } of points) {
    expect(x).toBeGreaterThanOrEqual(area.x - 0.5);
    expect(x).toBeLessThanOrEqual(area.x + area.width + 0.5);
    expect(y).toBeGreaterThanOrEqual(area.y - 0.5);
    expect(y).toBeLessThanOrEqual(area.y + area.height + 0.5);
  }
  const heightsPx = points.map(({ y }) => area.y + area.height - y);
  expect(Math.max(...heightsPx)).toBeGreaterThan(area.height / 2);
});

test('marks stand at their moments, and labels touch neither each other nor the marks', () => {
  const lost = layout.marks.find(({ kind }) => kind === 'power-lost');
  expect(lost?.at).toEqual(profilePoint(layout, trace, score.failure?.atS ?? 0));
  const boxes = layout.labels.map(({ box }) => box);
  expect(boxes.length).toBeGreaterThanOrEqual(2);
  const apart = (a: (typeof boxes)[number], b: (typeof boxes)[number]) =>
    a.x + a.width <= b.x || b.x + b.width <= a.x || a.y + a.height <= b.y || b.y + b.height <= a.y;
  for (const [i, a] of boxes.entries()) for (const b of boxes.slice(i + 1)) expect(apart(a, b)).toBe(true);
});

test('a recording without places has no profile', () => {
  const nowhere = { ...trace, alongFt: trace.alongFt.map(() => null) };
  expect(profileLayout(nowhere, score, runway, area, measure)).toBeNull();
});
