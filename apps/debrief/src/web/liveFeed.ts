// The live feed of all stations over one websocket; it comes back by itself when the server was away.
import type { Station } from '@stillprop/contracts';
import { readBrowserMessage } from './api.js';

const FIRST_WAIT_MS = 500;
const LONGEST_WAIT_MS = 5_000;

export interface LiveFeedState {
  readonly connection: 'connecting' | 'open' | 'lost';
  readonly stations: readonly Station[];
}

/** @fires change - after `state` was replaced. @fires back - the server is there again. @fires attempt-scored - CustomEvent<string>: the attempt's id. */
export class LiveFeed extends EventTarget {
  state: LiveFeedState = { connection: 'connecting', stations: [] };
  private waitMs = FIRST_WAIT_MS;

  start() {
    const socket = new WebSocket(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/ws/live`);
    socket.addEventListener('open', () => {
      this.waitMs = FIRST_WAIT_MS;
      const back = this.state.connection === 'lost';
      this.become({ ...this.state, connection: 'open' });
      if (back) this.dispatchEvent(new Event('back'));
    });
    socket.addEventListener('message', ({ data }) => this.take(data));
    socket.addEventListener('close', () => {
      this.become({ ...this.state, connection: 'lost' });
      setTimeout(() => this.start(), this.waitMs);
      this.waitMs = Math.min(2 * this.waitMs, LONGEST_WAIT_MS);
    });
  }

  private take(data: unknown) {
    const message = readBrowserMessage(data);
    if (message?.type === 'stations') this.become({ connection: 'open', stations: message.stations });
    if (message?.type === 'attempt-scored') {
      this.dispatchEvent(new CustomEvent('attempt-scored', { detail: message.attemptId }));
    }
  }

  private become(state: LiveFeedState) {
    this.state = state;
    this.dispatchEvent(new Event('change'));
  }
}

/** One feed for the whole page. */
export const liveFeed = new LiveFeed();
