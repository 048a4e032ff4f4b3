// Keeps parts running: one that ends by itself is started again, one that cannot work ends all of them.
import { type Part, type PartName, PartRefused, startPart, stopPart } from './parts.js';

const RESTART_PAUSE_MS = 1000;
/** A part that ends this soon after its start, this often, is not started again. */
const SHORT_LIFE_MS = 10_000;
const MOST_SHORT_LIVES = 5;
/** The bridge first: it closes its recording and hands over what it can. */
const END_ORDER = ['bridge', 'bench', 'debrief'] as const;

export interface Kept {
  readonly name: PartName;
  /** Words it is started again with. */
  words: readonly string[];
  part: Part;
}

export class KeptParts {
  readonly #kept: Kept[] = [];
  #shortLives = 0;
  #ending = false;

  /** @param onHopeless Called once, after all parts have ended because one cannot be kept running. */
  constructor(private readonly onHopeless: (code: 1 | 2, message: string) => void) {}

  /** Starts a part and keeps it. @throws {PartRefused} If it cannot start. */
  async keep(name: PartName, words: readonly string[]): Promise<Kept> {
    const entry: Kept = { name, words, part: await startPart(name, words, true) };
    this.#kept.push(entry);
    this.#watch(entry);
    return entry;
  }

  /** Ends all in order; none is started again. @returns false if they were being ended already. */
  async end(): Promise<boolean> {
    if (this.#ending) return false;
    this.#ending = true;
    for (const name of END_ORDER) {
      await Promise.all(this.#kept.filter((entry) => entry.name === name).map((entry) => stopPart(entry.part)));
    }
    return true;
  }

  #watch(entry: Kept): void {
    const since = Date.now();
    entry.part.process.once('exit', () => {
      if (this.#ending) return;
      this.#shortLives = Date.now() - since < SHORT_LIFE_MS ? this.#shortLives + 1 : 0;
      if (this.#shortLives > MOST_SHORT_LIVES) {
        void this.#giveUp(1, `the ${entry.name} keeps ending; nothing recorded is lost`);
        return;
      }
      console.error(`The ${entry.name} ended unexpectedly and is started again.`);
      setTimeout(() => void this.#startAgain(entry), RESTART_PAUSE_MS);
    });
  }

  async #startAgain(entry: Kept): Promise<void> {
    if (this.#ending) return;
    try {
      entry.part = await startPart(entry.name, entry.words, true);
    } catch (error) {
      await this.#giveUp(error instanceof PartRefused ? 2 : 1, (error as Error).message);
      return;
    }
    if (this.#ending) await stopPart(entry.part);
    else this.#watch(entry);
  }

  async #giveUp(code: 1 | 2, message: string): Promise<void> {
    if (await this.end()) this.onHopeless(code, message);
  }
}
