// What earlier attempts measured of a link's latency, with room for the odd one in which the computer was held up.
import type { MeasuredLatency } from '@stillprop/exercise';

const KEPT = 5;
/** Fewer say nothing yet: a single one may be the odd one. */
const NEEDED = 2;
/** Only what was measured at about the same pace of simulated time belongs together. */
const SAME_PACE = 1.5;

/** Latencies of one link, newest last. */
export class Latencies {
  #measured: readonly MeasuredLatency[] = [];

  add(measured: MeasuredLatency): void {
    this.#measured = [...this.#measured, measured].slice(-KEPT);
  }

  /** The (lower) median of those at the newest one's pace; null while there are fewer than two. */
  get typical(): MeasuredLatency | null {
    const newest = this.#measured.at(-1);
    if (newest === undefined) return null;
    const alike = this.#measured
      .filter(({ pace }) => pace < newest.pace * SAME_PACE && pace > newest.pace / SAME_PACE)
      .sort((a, b) => a.latencyS - b.latencyS);
    if (alike.length < NEEDED) return null;
    return alike[Math.floor((alike.length - 1) / 2)] ?? null;
  }
}
