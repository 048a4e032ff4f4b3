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
const sizes: [string, Box][] = [
  ['wide', { x: 34, y: 22, width: 690, height: 160 }],
  ['narrow', { x: 34, y: 22, width: 290, height: 200 }],
];

test.each(sizes)('on a %s page every label is inside, off the track and off the others', (_, area) => {
  const { trace, score } = teardrop();
  const layout = planLayout(trace, score, runway, area, measure);
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
  const layout = planLayout(trace, score, runway, sizes[0]?.[1] as Box, measure);
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
    planLayout({ ...trace, alongFt: nowhere, acrossFt: nowhere }, score, runway, sizes[0]?.[1] as Box, measure),
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
  expect(planLayout(gappy, score, runway, sizes[0]?.[1] as Box, measure)?.after).toHaveLength(2);
});

function inside(box: Box, { x, y }: Point): boolean {
  return x > box.x && x < box.x + box.width && y > box.y && y < box.y + box.height;
}
