// Several tracks over one runway: to scale in the plan, over the same places from the side, each with its label in both.
import { expect, test } from 'vitest';
import { clearance } from './labelPlacement.js';
import { teardrop } from './teardrop.fixture.js';
import { type ShownTrack, tracksLayout } from './tracksLayout.js';

const RUNWAY = {
  name: '24',
  lengthFt: 4600,
  widthFt: 75,
  headingTrueDeg: 238,
  elevationFt: 312,
  surface: 'paved',
  airfield: { beyondEndFt: 700, besideFt: 500 },
} as const;
const measure = (text: string) => ({ width: 7 * text.length, height: 15 });
const { trace, score } = teardrop();
/** The same flight, so many feet to the right. */
const shown = (label: string, asideFt: number): ShownTrack => ({
  label,
  trace: { ...trace, acrossFt: trace.acrossFt.map((value) => (value === null ? null : value + asideFt)) },
  fromS: score.failure?.atS ?? null,
});
const letters = 'ABCDEFGH'.split('');

test.each([
  [1240, 420, 300],
  [640, 420, 120],
  [350, 420, 40],
  [350, 320, 0],
])(
  'eight tracks in %i by %i px, %i ft apart: each is labelled in plan and side view, no label on another',
  (width, height, apartFt) => {
    const layout = tracksLayout(
      letters.map((letter, i) => shown(letter, i * apartFt)),
      RUNWAY,
      { width, height },
      measure,
    );
    expect(layout.labels.map(({ text }) => text)).toEqual([...letters, ...letters]);
    for (const [i, { box: a }] of layout.labels.entries()) {
      expect(a.x >= 0 && a.y >= 0 && a.x + a.width <= width && a.y + a.height <= height).toBe(true);
      if (apartFt === 0) continue; // eight flights in one line cannot all be told apart
      for (const { box: b } of layout.labels.slice(i + 1))
        expect(a.x + a.width <= b.x || b.x + b.width <= a.x || a.y + a.height <= b.y || b.y + b.height <= a.y).toBe(
          true,
        );
    }
  },
);

test('a label stands on its own track, clear of the others where they part', () => {
  const { tracks, labels, runway } = tracksLayout(
    [shown('A', 0), shown('B', 400)],
    RUNWAY,
    { width: 900, height: 600 },
    measure,
  );
  for (const [i, own] of tracks.entries()) {
    const { box, text } = labels[i] ?? { box: { x: 0, y: 0, width: 0, height: 0 }, text: '' };
    expect(text).toBe('AB'[i]);
    const room = (lines: typeof own.plan) => clearance(box, { lines, boxes: [] });
    expect(room(own.plan)).toBe(0);
    expect(clearance(box, { lines: [], boxes: [runway] })).toBeGreaterThan(4);
    expect(room(tracks[1 - i]?.plan ?? [])).toBeGreaterThan(4);
  }
});

test('the plan is to scale, and the side view stands under it place for place', () => {
  const { runway, field, tracks, ground, exaggeration, heights } = tracksLayout(
    [shown('A', 0)],
    RUNWAY,
    { width: 900, height: 500 },
    measure,
  );
  const pxPerFt = runway.width / 4600;
  expect(field.width / pxPerFt).toBeCloseTo(6000, 3);
  expect(field.height / pxPerFt).toBeCloseTo(1000, 3);
  const [plan, side] = [tracks[0]?.plan.flat() ?? [], tracks[0]?.profile.flat() ?? []];
  expect(side.map(({ x }) => x)).toEqual(plan.map(({ x }) => x));
  const from = trace.timeS.findIndex((timeS) => timeS >= (score.failure?.atS ?? 0));
  const heightFt = trace.heightFt[from] ?? Number.NaN;
  expect((ground[0].y - (side[0]?.y ?? 0)) / (pxPerFt * heightFt)).toBeCloseTo(exaggeration, 1);
  expect(heights.length).toBeGreaterThan(0);
});

test('what was not measured is not drawn', () => {
  const none = { ...trace, alongFt: trace.alongFt.map(() => null) };
  const { tracks, labels } = tracksLayout(
    [{ label: 'A', trace: none, fromS: null }, shown('B', 0)],
    RUNWAY,
    { width: 600, height: 400 },
    measure,
  );
  expect(tracks[0]).toEqual({ plan: [], profile: [] });
  expect(labels.map(({ text }) => text)).toEqual(['B', 'B']);
});
