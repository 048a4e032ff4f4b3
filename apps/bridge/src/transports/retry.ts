// When a connecting transport tries again: soon at first, then less and less often.

const FIRST_WAIT_MS = 250;
const LONGEST_WAIT_MS = 5000;
/** A connection that lasted so long was a good one: the next try after it is soon. */
const LASTED_MS = 2000;

/** Waits between the tries of one transport. */
export class Retry {
  #waitMs = FIRST_WAIT_MS;
  #timer: NodeJS.Timeout | undefined;
  #openedMs: number | null = null;
  #ended = false;

  constructor(private readonly connect: () => void) {}

  opened(): void {
    this.#openedMs = performance.now();
  }

  /** The connection broke or never came: tries again after a while. */
  again(): void {
    if (this.#ended) return;
    if (this.#openedMs !== null && performance.now() - this.#openedMs > LASTED_MS) this.#waitMs = FIRST_WAIT_MS;
    this.#openedMs = null;
    this.#timer = setTimeout(this.connect, this.#waitMs * (0.75 + 0.5 * Math.random()));
    this.#waitMs = Math.min(LONGEST_WAIT_MS, this.#waitMs * 2);
  }

  end(): void {
    this.#ended = true;
    clearTimeout(this.#timer);
  }
}
