// Messages with something wrong in them, by the seed of the property tests: bytes flipped, cut out, doubled, spliced.
import fc from 'fast-check';

/** How many to try per decoder: the suite's number, or that of `npm run fuzz`. */
export const MUTATIONS = Number(process.env.MUTATED_DATAGRAMS ?? 100_000);

/** Bytes that mean something to one of the decoders. */
const TELLING = [
  0, 1, 0x0a, 0x0d, 0x20, 0x22, 0x2c, 0x2d, 0x2e, 0x30, 0x39, 0x3b, 0x3d, 0x45, 0x5b, 0x7b, 0x7f, 0x80, 0xff,
];

/** `count` messages, each made of one or two of `originals` by one to four mutations; the same for the same seed. */
export function* mutatedMessages(originals: readonly Uint8Array[], count = MUTATIONS): Generator<Uint8Array> {
  const random = generator(fc.readConfigureGlobal().seed ?? 0);
  const below = (limit: number) => Math.floor(random() * limit);
  const pick = <T>(items: readonly T[]) => items[below(items.length)] as T;
  for (let made = 0; made < count; made += 1) {
    let bytes = Uint8Array.from(pick(originals));
    for (let left = 1 + below(4); left > 0; left -= 1) {
      const at = below(bytes.length + 1);
      switch (below(6)) {
        case 0: // a bit turned round
          if (at < bytes.length) bytes[at] = (bytes[at] ?? 0) ^ (1 << below(8));
          break;
        case 1: // a byte that means something
          if (at < bytes.length) bytes[at] = pick(TELLING);
          break;
        case 2: // cut short
          bytes = bytes.slice(0, at);
          break;
        case 3: // a piece missing
          bytes = joined(bytes.subarray(0, at), bytes.subarray(at + 1 + below(8)));
          break;
        case 4: // a piece doubled
          bytes = joined(bytes.subarray(0, at), bytes.subarray(Math.max(0, at - 1 - below(40))));
          break;
        default: // the end of another message
          bytes = joined(bytes.subarray(0, at), pick(originals).subarray(at));
      }
    }
    yield bytes;
  }
}

function joined(start: Uint8Array, end: Uint8Array): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(start.length + end.length);
  bytes.set(start);
  bytes.set(end, start.length);
  return bytes;
}

/** A small generator of numbers from 0 to below 1 (mulberry32, public domain). */
function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
