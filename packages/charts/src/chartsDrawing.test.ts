import { expect, test } from 'vitest';
import { chartsDrawing } from './chartsDrawing.js';
import { boxDistance, contains } from './labelPlacement.js';
import { outward } from './panels.js';
import { teardrop } from './teardrop.fixture.js';

const { trace, score } = teardrop();
const input = {
  trace,
  score,
  wingsLevelHeightFt: 100,
  whole: false,
  ghost: null,
  measure: (text: string) => text.length * 6.5,
};

test.each([
  ['wide', 730, 400],
  ['narrow', 358, 640],
])('on a %s page the panels stand under each other inside the stack', (_, width, height) => {
  const { stack } = chartsDrawing({ ...input, width, height });
  expect(stack.panels).toHaveLength(4);
  stack.panels.forEach((place, i) => {
    const next = stack.panels[i + 1];
    if (next) expect(next.top).toBeGreaterThan(place.top + place.height);
  });
  expect(stack.bottom + 24).toBeLessThanOrEqual(height);
  expect(stack.left + stack.plotWidth).toBeLessThanOrEqual(width);
});

test('direct labels stay inside their panel and off each other', () => {
  const { labels, stack } = chartsDrawing({ ...input, width: 730, height: 400 });
  expect(labels.flat().map(({ text }) => text)).toContain('stall speed at this load factor');
  labels.forEach((ones, i) => {
    const above = i === 0 ? 0 : 16; // of the gap of 18 px between panels
    const area = { x: 0, y: -above, width: stack.plotWidth, height: (stack.panels[i]?.height ?? 0) + above };
    ones.forEach((label, k) => {
      expect(contains(area, label.box), label.text).toBe(true);
      for (const other of ones.slice(k + 1)) expect(boxDistance(label.box, other.box)).toBeGreaterThan(0);
    });
  });
});

test('the bank band lies on the side that was turned to', () => {
  const right = chartsDrawing({ ...input, width: 730, height: 400 }).panels.find(({ id }) => id === 'bank');
  expect(right?.band).toMatchObject({ from: 40, to: 50, fromS: 66, toS: 86 });
  const mirrored = { ...trace, bankDeg: trace.bankDeg.map((bank) => -(bank ?? 0)) };
  const left = chartsDrawing({ ...input, trace: mirrored, width: 730, height: 400 }).panels.find(
    ({ id }) => id === 'bank',
  );
  expect(left?.band).toMatchObject({ from: -50, to: -40 });
  expect(left?.from).toBeLessThanOrEqual(-50);
});

test('every panel holds what it shows, and a channel that is missing does not stretch the others', () => {
  const without = {
    ...trace,
    stallSpeedKt: trace.stallSpeedKt.map(() => null),
    bankDeg: trace.bankDeg.map(() => null),
  };
  const { panels, window } = chartsDrawing({ ...input, trace: without, width: 730, height: 400 });
  for (const { from, to, lines, id } of panels) {
    expect(to, id).toBeGreaterThan(from);
    trace.timeS.forEach((timeS, i) => {
      const value = without[lines[0]?.column ?? 'heightFt'][i] ?? null;
      if (value === null || timeS < window.fromS || timeS > window.toS) return;
      expect(value).toBeGreaterThanOrEqual(from);
      expect(value).toBeLessThanOrEqual(to);
    });
  }
  expect(panels.find(({ id }) => id === 'airspeed')?.from).toBeGreaterThanOrEqual(40);
});

test('a target band whose inside is taken up by the line is named above its panel', () => {
  const { labels, panels, stack } = chartsDrawing({ ...input, width: 730, height: 250 });
  const airspeed = panels.findIndex(({ id }) => id === 'airspeed');
  expect(stack.panels[airspeed]?.height).toBeLessThan(40);
  expect(labels[airspeed]?.map(({ text }) => text)).toContain('target 80 to 95\u00a0kt');
});

test('the panels hold the ghost too, and name it once', () => {
  const timeS = [60, 80, 110];
  const none = [0, 0, 0];
  const ghost = {
    timeS,
    heightFt: [1000, 1240, 0],
    airspeedKcas: [92, 41, 70],
    bankDeg: [0, -62, 0],
    verticalSpeedFpm: [1200, -3100, -500],
    alongFt: none,
    acrossFt: none,
  };
  const { panels, labels } = chartsDrawing({ ...input, ghost, width: 730, height: 400 });
  const range = (id: string) => panels.find((panel) => panel.id === id);
  expect(range('height')?.to).toBeGreaterThanOrEqual(1240);
  expect(range('airspeed')?.from).toBeLessThanOrEqual(41);
  expect(range('bank')?.from).toBeLessThanOrEqual(-62);
  expect(range('vertical-speed')?.from).toBeLessThanOrEqual(-3100);
  expect(labels.flat().filter(({ text }) => text === 'as asked')).toHaveLength(1);
});

test('a range widens to whole steps and is never empty', () => {
  expect(outward({ from: 63, to: 92 }, 10)).toEqual({ from: 60, to: 100 });
  expect(outward({ from: 0, to: 0 }, 10)).toEqual({ from: 0, to: 10 });
});
