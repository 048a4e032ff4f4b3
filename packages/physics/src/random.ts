// Seeded random numbers: the same seed gives the same numbers on every machine.

/** Uniform numbers in 0 … 1, and standard normal ones. */
export interface RandomSource {
  uniform(): number;
  normal(): number;
}

/**
 * A source for a seed. Uniform: a 32-bit counter scrambled by two rounds of multiply and shift (mulberry32, Tommy
 * Ettinger, public domain). Normal: Box and Muller (1958).
 *
 * @param seed Any integer.
 * @throws {RangeError} If the seed is not an integer.
 */
export function randomSource(seed: number): RandomSource {
  if (!Number.isSafeInteger(seed)) throw new RangeError(`seed must be an integer, got ${seed}`);
  let counter = seed >>> 0;
  const uniform = () => {
    counter = (counter + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(counter ^ (counter >>> 15), counter | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
}
