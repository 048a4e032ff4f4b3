// What the pages see live: a picture of all stations about ten times a second, never more than a page can take.
import type { BrowserMessage, Station } from '@stillprop/contracts';

const EVERY_MS = 100;
/** With more than this unsent, a page gets no picture until it has caught up. */
const BEHIND_BYTES = 64 * 1024;
/** With more than this unsent, a page is let go: it connects anew and starts afresh. */
const LOST_BYTES = 4 * 1024 * 1024;

/** One page's connection. */
export interface LiveViewer {
  /** Bytes handed over and not yet sent. */
  readonly bufferedAmount: number;
  send(text: string): void;
  terminate(): void;
}

export interface LiveFeed {
  /** Sends the present picture at once, and from then on each newer one. */
  add(viewer: LiveViewer): void;
  remove(viewer: LiveViewer): void;
  /** There is a newer picture. */
  changed(): void;
  scored(attemptId: string): void;
  close(): void;
}

export function liveFeed(stations: () => Station[]): LiveFeed {
  /** Each page with the number of the picture it was sent last. */
  const viewers = new Map<LiveViewer, number>();
  let newest = 0;
  let timer: NodeJS.Timeout | undefined;
  let sentAtMs = Number.NEGATIVE_INFINITY;

  const textOf = (message: BrowserMessage) => JSON.stringify(message);
  const picture = () => textOf({ type: 'stations', stations: stations() });

  function plan(): void {
    if (timer !== undefined || viewers.size === 0) return;
    timer = setTimeout(sendPictures, Math.max(0, sentAtMs + EVERY_MS - performance.now()));
  }

  function sendPictures(): void {
    timer = undefined;
    sentAtMs = performance.now();
    const text = picture();
    let someoneBehind = false;
    for (const [viewer, has] of viewers) {
      if (has === newest) continue;
      if (viewer.bufferedAmount > BEHIND_BYTES) {
        someoneBehind = true;
        continue;
      }
      viewer.send(text);
      viewers.set(viewer, newest);
    }
    if (someoneBehind) plan();
  }

  return {
    add(viewer) {
      viewer.send(picture());
      viewers.set(viewer, newest);
    },
    remove(viewer) {
      viewers.delete(viewer);
    },
    changed() {
      newest += 1;
      plan();
    },
    scored(attemptId) {
      const text = textOf({ type: 'attempt-scored', attemptId });
      for (const viewer of viewers.keys()) {
        if (viewer.bufferedAmount > LOST_BYTES) viewer.terminate();
        else viewer.send(text);
      }
    },
    close() {
      clearTimeout(timer);
      timer = undefined;
      viewers.clear();
    },
  };
}
