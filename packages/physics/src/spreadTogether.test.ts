// A spread divided between workers: the same counts in whatever order they come, an end on request and on failure.
import { expect, test } from 'vitest';
import { requestR, surfaceWind } from './reference.fixture.js';
import { addCounts, countDraws, type SpreadWork, spreadWork } from './spread.js';
import { countAtFirst, countTogether } from './spreadTogether.js';

const work = spreadWork(requestR({ weather: surfaceWind(60, 8) }), { heightsFt: [650, 900], draws: 1000, seed: 5 });
const whole = countDraws(work);

test('pieces that come back in another order add up to the same counts, with progress that rises to 1', async () => {
  const shares: number[] = [];
  let piece = 0;
  const counts = await countTogether(
    work,
    async (part) => {
      piece++;
      await new Promise((resolve) => setTimeout(resolve, piece % 2 === 0 ? 20 : 1));
      return countDraws(part);
    },
    { lanes: 3, onProgress: (share) => shares.push(share) },
  );
  expect(counts).toEqual(whole);
  expect(piece).toBeGreaterThan(3);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(shares.at(-1)).toBe(1);
});

test('what was counted at first and the rest make the whole', () => {
  const { counts, rest } = countAtFirst(work, 5);
  expect(counts.draws).toBeLessThan(1000);
  expect(addCounts(counts, countDraws(rest as SpreadWork))).toEqual(whole);
  expect(countAtFirst({ ...work, draws: 1 }, 10_000).rest).toBe(null);
});

test('after a cancel no piece is handed out and the reason is thrown', async () => {
  const cancel = new AbortController();
  let pieces = 0;
  const counting = countTogether(
    work,
    async (part) => {
      pieces++;
      cancel.abort(new Error('enough'));
      return countDraws(part);
    },
    { lanes: 1, signal: cancel.signal },
  );
  await expect(counting).rejects.toThrow('enough');
  expect(pieces).toBe(1);
});

test('what a worker fails with ends the work', async () => {
  const failing = countTogether(work, () => Promise.reject(new Error('broken')), { lanes: 2 });
  await expect(failing).rejects.toThrow('broken');
});
