// A wire that loses, doubles, delays and swaps datagrams on request, to try what the bridge makes of it.
import { randomSource } from '@stillprop/physics';

export interface WireFaults {
  /** Share of datagrams lost, 0 to 1. */
  readonly drop: number;
  /** Share sent twice. */
  readonly duplicate: number;
  /** Share held back until the next one has gone. */
  readonly reorder: number;
  /** Wall time each is held back (ms). */
  readonly delayMs: number;
}

export const NO_FAULTS: WireFaults = { drop: 0, duplicate: 0, reorder: 0, delayMs: 0 };

/** A sender that passes datagrams to `send` with faults, the same ones for the same seed. */
export function faultyWire(
  faults: WireFaults,
  seed: number,
  send: (datagram: Uint8Array) => void,
): (datagram: Uint8Array) => void {
  const random = randomSource(seed).uniform;
  let held: Uint8Array | undefined;
  const pass = (datagram: Uint8Array) => {
    if (faults.delayMs > 0) setTimeout(() => send(datagram), faults.delayMs);
    else send(datagram);
  };
  return (datagram) => {
    if (random() < faults.drop) return;
    if (held === undefined && random() < faults.reorder) {
      held = datagram;
      return;
    }
    pass(datagram);
    if (random() < faults.duplicate) pass(datagram);
    if (held !== undefined) {
      pass(held);
      held = undefined;
    }
  };
}
