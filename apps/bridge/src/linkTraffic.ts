// What comes in over a link, counted: messages, samples, their rate, and refusals by reason.
import type { LiveState } from '@stillprop/contracts';
import { nowS } from './clock.js';

const STALE_S = 1;
const RATE_WINDOW_S = 1;
/** For so long after the last refused message they count as arriving. */
const REFUSING_S = 5;
/** Reasons told apart; there are fewer, unless a profile names many links. */
const MOST_REASONS = 200;

type LinkState = LiveState['link'];

export class LinkTraffic {
  #received = 0;
  #samples = 0;
  #heardS: number | null = null;
  #mark = { atS: nowS(), samples: 0 };
  #rateHz = 0;
  readonly #refused: Record<string, number> = {};
  #reasons = 0;
  /** Messages refused since the last sample. */
  #refusing: { count: number; readonly reason: string } | null = null;
  #refusedS = Number.NEGATIVE_INFINITY;

  /** @param onRefusing Messages arrive and none is read; told at the first and at each tenfold count. */
  constructor(private readonly onRefusing: (count: number, reason: string) => void) {}

  messageCame(): void {
    this.#received += 1;
  }

  sampleCame(receivedS: number): void {
    this.#samples += 1;
    this.#heardS = receivedS;
    this.#refusing = null;
  }

  /** Part of a message was refused. */
  refuse(code: string): void {
    const known = this.#refused[code];
    if (known === undefined && this.#reasons >= MOST_REASONS) return;
    if (known === undefined) this.#reasons += 1;
    this.#refused[code] = (known ?? 0) + 1;
  }

  /** Nothing of a message was of use. @param reason In words, for a person. */
  refuseWhole(code: string, reason: string): void {
    this.refuse(code);
    this.#refusing ??= { count: 0, reason };
    this.#refusing.count += 1;
    this.#refusedS = nowS();
    // One bad message among good ones is only counted.
    const { count, reason: first } = this.#refusing;
    if (this.#state() !== 'receiving' && Number.isInteger(Math.log10(count))) this.onRefusing(count, first);
  }

  status(profileId: string): LinkState {
    const now = nowS();
    if (now - this.#mark.atS >= RATE_WINDOW_S) {
      this.#rateHz = Math.round((10 * (this.#samples - this.#mark.samples)) / (now - this.#mark.atS)) / 10;
      this.#mark = { atS: now, samples: this.#samples };
    }
    const state = this.#state();
    const told: LinkState = {
      profileId,
      state,
      rateHz: this.#rateHz,
      received: this.#received,
      refused: { ...this.#refused },
    };
    const quiet = state === 'receiving' || now - this.#refusedS > REFUSING_S;
    return quiet || this.#refusing === null ? told : { ...told, refusing: { ...this.#refusing } };
  }

  #state(): 'silent' | 'receiving' | 'stale' {
    if (this.#heardS === null) return 'silent';
    return nowS() - this.#heardS > STALE_S ? 'stale' : 'receiving';
  }
}
