// A small generator of numbers that the same seed gives again in every program and every year.

/**
 * Numbers in 0 (included) to 1 (excluded): a Weyl sequence with step 0x9e3779b9 (2^32 over the golden ratio), each
 * number of it mixed by two multiply-and-shift rounds (a 32-bit finaliser of the "mix" family; from memory). Good for
 * drawing heights, never for secrets.
 *
 * @param seed Any whole number; taken modulo 2^32.
 * @param stream A second whole number that separates sequences of one seed.
 */
export function seededGenerator(seed: number, stream = 0): () => number {
  let state = (mixed(seed >>> 0) ^ mixed((stream >>> 0) + 0x632be5ab)) >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    return mixed(state) / 2 ** 32;
  };
}

function mixed(value: number): number {
  let bits = value;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return (bits ^ (bits >>> 16)) >>> 0;
}
