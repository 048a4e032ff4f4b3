// The live picture: at once on connecting, then thinned, and skipped for a page that cannot keep up.
import { BrowserMessage, type Station } from '@stillprop/contracts';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { type LiveFeed, liveFeed } from './liveFeed.js';

class FakeViewer {
  bufferedAmount = 0;
  terminated = false;
  readonly got: BrowserMessage[] = [];
  send(text: string) {
    this.got.push(BrowserMessage.parse(JSON.parse(text)));
  }
  terminate() {
    this.terminated = true;
  }
  /** Name of the only station in each picture. */
  get names() {
    return this.got.flatMap((message) => (message.type === 'stations' ? [message.stations[0]?.station] : []));
  }
}

let name: string;
let feed: LiveFeed;
beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
  name = 'first';
  const station = (): Station => ({ station: name, connected: true, hello: null, live: null });
  feed = liveFeed(() => [station()]);
});
afterEach(() => {
  feed.close();
  vi.useRealTimers();
});
const change = (to: string) => {
  name = to;
  feed.changed();
};

test('a page sees the present picture at once, and the next change without waiting for another', () => {
  const viewer = new FakeViewer();
  feed.add(viewer);
  expect(viewer.names).toEqual(['first']);
  change('second');
  vi.advanceTimersByTime(0);
  expect(viewer.names).toEqual(['first', 'second']);
});

test('a hundred changes in a second make about ten pictures, and the last one is seen', () => {
  const viewer = new FakeViewer();
  feed.add(viewer);
  for (let count = 1; count <= 100; count += 1) {
    change(`change ${count}`);
    vi.advanceTimersByTime(10);
  }
  vi.advanceTimersByTime(100);
  expect(viewer.names.length).toBeGreaterThanOrEqual(10);
  expect(viewer.names.length).toBeLessThanOrEqual(13);
  expect(viewer.names.at(-1)).toBe('change 100');
});

test('nothing is sent while nothing changes', () => {
  const viewer = new FakeViewer();
  feed.add(viewer);
  vi.advanceTimersByTime(5000);
  expect(viewer.got.length).toBe(1);
  expect(vi.getTimerCount()).toBe(0);
});

test('a page that is behind is skipped until it has caught up, then sees the newest; others are not held up', () => {
  const slow = new FakeViewer();
  const quick = new FakeViewer();
  feed.add(slow);
  feed.add(quick);
  slow.bufferedAmount = 10 ** 6;
  for (const to of ['second', 'third']) {
    change(to);
    vi.advanceTimersByTime(100);
  }
  expect(slow.names).toEqual(['first']);
  expect(quick.names).toEqual(['first', 'second', 'third']);
  slow.bufferedAmount = 0;
  vi.advanceTimersByTime(200);
  expect(slow.names).toEqual(['first', 'third']);
  expect(quick.names.length).toBe(3);
});

test('a scored attempt is told at once to every page, and a page hopelessly behind is let go', () => {
  const lost = new FakeViewer();
  const quick = new FakeViewer();
  feed.add(lost);
  feed.add(quick);
  lost.bufferedAmount = 10 ** 8;
  feed.scored('an-attempt');
  expect(quick.got.at(-1)).toEqual({ type: 'attempt-scored', attemptId: 'an-attempt' });
  expect([lost.terminated, quick.terminated]).toEqual([true, false]);
});

test('a page that left is sent nothing more', () => {
  const viewer = new FakeViewer();
  feed.add(viewer);
  feed.remove(viewer);
  change('second');
  feed.scored('an-attempt');
  vi.advanceTimersByTime(1000);
  expect(viewer.got.length).toBe(1);
});
