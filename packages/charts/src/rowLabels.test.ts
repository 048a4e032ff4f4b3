import fc from 'fast-check';
import { expect, test } from 'vitest';
import { markLabels, stretchLabels } from './rowLabels.js';

const stretch = (text: string, fromX: number, toX: number, width: number) => ({ text, fromX, toX, width });

test('a name with room stands over the middle of its stretch', () => {
  expect(stretchLabels([stretch('Turn', 100, 200, 30)], 400, 6)).toEqual([{ text: 'Turn', x: 135, width: 30 }]);
});

test('names of short neighbours move apart instead of running into each other', () => {
  const labels = stretchLabels([stretch('Delay', 40, 75, 38), stretch('Push', 75, 105, 34)], 400, 6);
  expect(labels.map(({ text }) => text)).toEqual(['Delay', 'Push']);
  expect((labels[1]?.x ?? 0) - (labels[0]?.x ?? 0)).toBeGreaterThanOrEqual(38 + 6);
});

test('where there is no room, the name of the shortest stretch is left out', () => {
  const labels = stretchLabels(
    [stretch('Delay', 40, 60, 38), stretch('Push', 60, 70, 34), stretch('Turn', 70, 150, 30)],
    400,
    6,
  );
  expect(labels.map(({ text }) => text)).toEqual(['Delay', 'Turn']);
});

test('names never overlap and never leave the row', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 120 }), { minLength: 1, maxLength: 10 }), (lengths) => {
      let x = 0;
      const stretches = lengths.map((length, i) => {
        const one = stretch(String(i), x, x + length, 36);
        x += length;
        return one;
      });
      const labels = stretchLabels(stretches, x, 6);
      labels.forEach((label, i) => {
        expect(label.x).toBeGreaterThanOrEqual(-0.5);
        expect(label.x + label.width).toBeLessThanOrEqual(x + 0.5);
        const next = labels[i + 1];
        if (next) expect(next.x).toBeGreaterThanOrEqual(label.x + label.width + 6 - 1e-9);
      });
    }),
  );
});

test('an event is named at its right, at its left when another mark is near, or not at all', () => {
  const near = markLabels(
    [
      { text: 'power lost', x: 70, width: 60 },
      { text: 'first action', x: 100, width: 70 },
    ],
    400,
    6,
  );
  expect(near.map(({ side }) => side)).toEqual(['left', 'right']);
  const crowded = markLabels(
    [
      { text: 'power lost', x: 20, width: 60 },
      { text: 'first action', x: 50, width: 70 },
    ],
    400,
    6,
  );
  expect(crowded.map(({ side }) => side)).toEqual([null, 'right']);
  const hanging = markLabels(
    [
      { text: 'power lost', x: 20, width: 60 },
      { text: 'first action', x: 50, width: 70 },
    ],
    400,
    6,
    { left: 50, right: 0 },
  );
  expect(hanging.map(({ side }) => side)).toEqual(['left', 'right']);
});
