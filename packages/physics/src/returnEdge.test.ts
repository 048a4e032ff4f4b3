// Edges of windows: where the flights agree, and above the islands.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bisected, failsAbove, flownEdge, openingEdge } from './returnEdge.js';

const trial = (works: (heightFt: number) => boolean) => (heightFt: number) => ({ heightFt, works: works(heightFt) });

test('an edge is moved in to where the attempt stops, and out as far as it still does', () => {
  const fly = trial((heightFt) => heightFt >= 371 && heightFt <= 1120);
  expect(flownEdge({ heightFt: 1124, works: true }, 371, 1150, fly)?.heightFt).toBe(1120);
  expect(flownEdge({ heightFt: 1100, works: true }, 371, 1150, fly)?.heightFt).toBe(1120);
  expect(flownEdge({ heightFt: 1100, works: true }, 371, 1150, fly, false)?.heightFt).toBe(1100);
  expect(flownEdge({ heightFt: 369, works: true }, 1000, 350, fly)?.heightFt).toBe(371);
  expect(flownEdge({ heightFt: 380, works: true }, 1000, 350, fly)?.heightFt).toBe(371);
  expect(flownEdge({ heightFt: 1150, works: true }, 1125, 1200, fly)).toBeNull();
});

test('whatever works in between, an edge works and the height a foot outside does not', () => {
  fc.assert(
    fc.property(fc.infiniteStream(fc.boolean()), fc.integer({ min: 101, max: 149 }), (noise, edgeFt) => {
      const drawn = new Map<number, boolean>();
      const works = (heightFt: number) => {
        if (heightFt <= 100) return false;
        if (heightFt >= 150) return true;
        if (!drawn.has(heightFt)) drawn.set(heightFt, noise.next().value as boolean);
        return drawn.get(heightFt) as boolean;
      };
      for (const outwards of [true, false]) {
        const edge = flownEdge({ heightFt: edgeFt, works: true }, 150, 100, trial(works), outwards);
        expect(edge?.works).toBe(true);
        expect(works(edge?.heightFt ?? 0)).toBe(true);
        if (outwards) expect(works((edge?.heightFt ?? 0) - 1)).toBe(false);
      }
      const good = bisected({ heightFt: 150, works: true }, 100, trial(works)).heightFt;
      expect([works(good), works(good - 1)]).toEqual([true, false]);
    }),
  );
});

test('the height to return from lies above every island below it', () => {
  const islands = trial(
    (heightFt) => (heightFt >= 264 && heightFt < 272) || (heightFt >= 280 && heightFt < 288) || heightFt >= 300,
  );
  const trials = { probe: islands, fly: islands, highestFt: 3000 };
  expect(failsAbove(264, 3000, islands)).toBe(274);
  expect(failsAbove(300, 3000, islands)).toBeNull();
  expect(openingEdge({ heightFt: 268, works: true }, 220, trials)).toBe(300);
  expect(openingEdge({ heightFt: 320, works: true }, 297, trials)).toBe(300);
  const nothingElse = trial((heightFt) => heightFt >= 264 && heightFt < 272);
  expect(
    openingEdge({ heightFt: 268, works: true }, 220, { probe: nothingElse, fly: nothingElse, highestFt: 3000 }),
  ).toBeNull();
});
