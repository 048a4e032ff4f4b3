import type { AttemptList } from '@stillprop/contracts';
import { expect, test } from 'vitest';
import { neighboursOf } from './neighbours.js';

/** A list of attempts `0` (newest) to `count - 1`, read page by page; counts the pages read. */
function listOf(count: number) {
  let pages = 0;
  const read = async (limit: number, before: string | null): Promise<AttemptList> => {
    pages++;
    const from = before === null ? 0 : Number(before);
    const ids = Array.from({ length: Math.max(0, Math.min(limit, count - from)) }, (_, i) => String(from + i));
    return {
      attempts: ids.map((attemptId) => ({ attemptId })) as AttemptList['attempts'],
      total: count,
      next: from + limit < count ? String(from + limit) : null,
    };
  };
  return { read, pages: () => pages };
}

test.each([
  ['in the middle', '5', 10, '6', '4'],
  ['the newest', '0', 10, '1', null],
  ['the oldest', '9', 10, null, '8'],
  ['the only one', '0', 1, null, null],
  ['last of a page', '99', 250, '100', '98'],
  ['first of the next page', '100', 250, '101', '99'],
])('%s', async (_, id, count, olderId, newerId) => {
  expect(await neighboursOf(id, listOf(count).read)).toEqual({ olderId, newerId });
});

test('an attempt that is not in the list has none', async () => {
  expect(await neighboursOf('x', listOf(30).read)).toEqual({ olderId: null, newerId: null });
});

test('no more pages are read than a few', async () => {
  const list = listOf(10_000);
  expect(await neighboursOf('9000', list.read)).toEqual({ olderId: null, newerId: null });
  expect(list.pages()).toBeLessThanOrEqual(5);
});
