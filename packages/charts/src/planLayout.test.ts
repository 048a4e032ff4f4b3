import { expect, test } from 'vitest';
import { type Box, boxDistance, contains, type Point } from './labelPlacement.js';
import { planLayout, planPoint } from './planLayout.js';
import { teardrop } from './teardrop.fixture.js';

const runway = {
  name: '24',
  airfieldName: 'Test field (invented)',
  lengthFt: 4600,
  widthFt: 75,
  headingTrueDeg: 238,
  elevationFt: 312,
  surface: 'paved' as const,
  airfield: { beyondEndFt: 700, besideFt: 500 },
};
const measure = (text: string) => ({ width: text.length * 7, height: 16 });
const rest = { runway, measure, ghost: null, reach: null };
const sizes: [string, Box][] = [
  ['wide', { x: 34, y: 22, width: 690, height: 160 }],
  ['narrow', { x: 34, y: 22, width: 290, height: 200 }],
];

test.each(sizes)('on a %s page every label is inside, off the track and off the others', (_, area) => {
  const { trace, score } = teardrop();
  const layout = planLayout({ ...rest, trace, score, area });
  if (!layout) throw new Error('no layout');
  expect(layout.labels.map(({ kind }) => kind)).toEqual(
    expect.arrayContaining(['runway-start', 'runway-end', 'power-lost', 'touchdown', 'turn-start']),
  );
  const room = { x: area.x - 10, y: area.y - 10, width: area.width + 20, height: area.height + 20 };
  const track = [...layout.before, ...layout.after].flat();
  layout.labels.forEach(({ box, text }, i) => {
    expect(contains(room, box), text).toBe(true);
    expect(
      track.some((point) => inside(box, point)),
      text,
    ).toBe(false);
    for (const other of layout.labels.slice(i + 1)) expect(boxDistance(box, other.box), text).toBeGreaterThan(0);
  });
});

test('runway ends, marks and ticks stand where they were flown', () => {
  const { trace, score } = teardrop();
  const layout = planLayout({ ...rest, trace, score, area: sizes[0]?.[1] as Box });
  if (!layout) throw new Error('no layout');
  const { frame } = layout;
  expect(layout.labels.find(({ kind }) => kind === 'runway-end')?.text).toBe('06');
  expect(layout.runway.width).toBeCloseTo(4600 * frame.pxPerFt, 6);
  const lost = layout.marks.find(({ kind }) => kind === 'power-lost');
  expect(lost?.at).toEqual(frame.toPx(60 * 141, 0));
  expect(lost?.text).toBe('power lost at 1,000\u00a0ft');
  expect(layout.ticks).toHaveLength(5); // 55 s from the loss of power to contact, one each 10 s
  expect(planPoint(frame, trace, 30)).toEqual(frame.toPx(30 * 141, 0));
});

test('no place recorded, no plan', () => {
  const { trace, score } = teardrop();
  const nowhere = trace.timeS.map(() => null);
  expect(
    planLayout({
      ...rest,
      trace: { ...trace, alongFt: nowhere, acrossFt: nowhere },
      score,
      area: sizes[0]?.[1] as Box,
    }),
  ).toBeNull();
});

test('a gap in the track stays a gap', () => {
  const { trace, score } = teardrop();
  const gappy = {
    ...trace,
    alongFt: trace.alongFt.map((value, i) =>
      (trace.timeS[i] as number) > 80 && (trace.timeS[i] as number) < 84 ? null : value,
    ),
  };
  expect(planLayout({ ...rest, trace: gappy, score, area: sizes[0]?.[1] as Box })?.after).toHaveLength(2);
});

function inside(box: Box, { x, y }: Point): boolean {
  return x > box.x && x < box.x + box.width && y > box.y && y < box.y + box.height;
}

test('the ground within reach is drawn to scale, closed, and named where it lies on the plan; the plan stays as it was', () => {
  const { trace, score } = teardrop();
  const area = sizes[0]?.[1] as Box;
  const outline = [
    { alongFt: 14_000, acrossFt: -4_000 },
    { alongFt: 14_000, acrossFt: 6_000 },
    { alongFt: 2_000, acrossFt: 6_000 },
    { alongFt: 2_000, acrossFt: -4_000 },
  ];
  const without = planLayout({ ...rest, trace, score, area });
  const layout = planLayout({ ...rest, trace, score, area, reach: { outline, ends: [] } });
  if (!layout || !without) throw new Error('no layout');
  expect(layout.frame.toPx(0, 0)).toEqual(without.frame.toPx(0, 0));
  expect(layout.reach[0]).toEqual(layout.frame.toPx(14_000, -4_000));
  expect(layout.reach.at(-1)?.x).toBeCloseTo(layout.frame.toPx(14_000, -4_000).x, 6);
  const label = layout.labels.find(({ kind }) => kind === 'reach');
  if (!label) throw new Error('no label');
  // The line at 2,000 ft along is the only one on the plan, and what is within reach lies beyond it.
  const away = label.box.x - layout.frame.toPx(2_000, 0).x;
  expect(away).toBeGreaterThan(0);
  expect(away).toBeLessThan(20);
});
