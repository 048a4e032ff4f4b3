// Damaged datagrams by the hundred thousand, and what a decoder of an open standard must hold to whatever it is given.
import { Sample } from '@stillprop/contracts';
import fc from 'fast-check';
import type { StandardDecoded, StandardDecoder } from './standards.js';

const COUNT = Number(process.env.MUTATED_DATAGRAMS ?? 100_000);
const LONGEST = 2000;
/** For the test round `tryMutated`: there to end one that hangs, on a slow machine too. */
export const MUTATION_TIME = { timeout: Math.max(120_000, COUNT) };

export interface MutationTarget {
  readonly decode: StandardDecoder;
  /** Whole datagrams; they are damaged as they are. */
  readonly datagrams: readonly Uint8Array[];
  /** Contents without their check sums: damaged first, wrapped then, so that the damage gets past the check. */
  readonly contents: readonly Uint8Array[];
  readonly wrap: (content: Uint8Array) => Uint8Array;
}

/** How the datagrams were taken; `count` is the sum of the others. */
export interface MutationTally {
  readonly count: number;
  readonly read: number;
  readonly refused: number;
}

/** Decodes damaged datagrams; throws with the bytes of the first that breaks the decoder's promise. */
export function tryMutated({ decode, datagrams, contents, wrap }: MutationTarget): MutationTally {
  const random = randomIntegers(fc.readConfigureGlobal().seed ?? 1);
  let read = 0;
  let refused = 0;
  for (let index = 0; index < COUNT; index += 1) {
    const wrapped = index % 2 === 1;
    const bytes = damaged(wrapped ? contents : datagrams, random);
    const datagram = wrapped ? wrap(bytes) : bytes;
    try {
      const decoded = decode(datagram);
      assertSound(decoded);
      if (decoded.messages.length > 0) read += 1;
      if (decoded.refused.length > 0) refused += 1;
    } catch (error) {
      throw new Error(`datagram ${index}, ${Buffer.from(datagram).toString('hex')}: ${String(error)}`);
    }
  }
  return { count: COUNT, read, refused };
}

/** Nothing that is not finite, every channel inside the bounds of a sample, times inside their period. */
export function assertSound(decoded: StandardDecoded): void {
  for (const { time, channels, fields } of decoded.messages) {
    for (const [name, value] of [...Object.entries(fields), ...Object.entries(channels)]) {
      if (value === undefined || (typeof value === 'number' && !Number.isFinite(value)))
        throw new Error(`${name} is ${String(value)}`);
    }
    for (const [name, value] of Object.entries(channels)) {
      if (!Sample.shape[name as keyof typeof channels].safeParse(value).success)
        throw new Error(`${name} is ${String(value)}`);
    }
    // One second beyond the period: a leap second.
    if (time !== undefined && !(time.seconds >= 0 && time.seconds < time.periodS + 1))
      throw new Error(`time is ${time.seconds} of ${time.periodS} s`);
  }
}

const scratch = new Uint8Array(2 * LONGEST);

function damaged(sources: readonly Uint8Array[], random: (below: number) => number): Uint8Array {
  const pick = () => (sources[random(sources.length)] ?? new Uint8Array()).subarray(0, LONGEST);
  const first = pick();
  scratch.set(first);
  let length = first.length;
  const move = (to: number, from: number) => {
    scratch.copyWithin(to, from, length);
    length += to - from;
  };
  for (let times = 1 + random(4); times > 0; times -= 1) {
    const at = random(length + 1);
    switch (random(7)) {
      case 0:
        scratch[at] = (scratch[at] ?? 0) ^ (1 << random(8));
        break;
      case 1:
        scratch[at] = random(256);
        break;
      case 2:
        move(at, Math.min(length, at + 1 + random(4)));
        break;
      case 3:
        move(at + 1, at);
        scratch[at] = random(256);
        break;
      case 4:
        length = at;
        break;
      case 5: {
        const more = pick();
        scratch.set(more.subarray(0, LONGEST - Math.min(length, LONGEST)), length);
        length = Math.min(LONGEST, length + more.length);
        break;
      }
      default: // extreme values of numbers of every width
        scratch.fill(random(2) * 0xff, at, Math.min(length, at + 1 + random(8)));
    }
  }
  return scratch.slice(0, length);
}

/** Marsaglia's 32-bit xorshift: the same numbers from the same seed, whichever the machine. */
function randomIntegers(seed: number): (below: number) => number {
  let state = seed | 0 || 1;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}
