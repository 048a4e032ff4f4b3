// Channels of the ground that can be believed: one that stays as it is while the aeroplane climbs tells nothing.

/** Climbed by so much, a height above the ground that moved by less than the other is none (ft). */
const CLIMBED_FT = 100;
const STUCK_FT = 5;

/** @param heightFt Height above the runway, of the same samples. @returns The channel, or null: absent, or not to be believed. */
export function believedHeight(aboveGroundFt: Float64Array | null, heightFt: Float64Array): Float64Array | null {
  if (aboveGroundFt === null) return null;
  return rangeOf(heightFt) > CLIMBED_FT && rangeOf(aboveGroundFt) < STUCK_FT ? null : aboveGroundFt;
}

/** As {@link believedHeight}, for the flag: true all the while, a hundred feet up, is no answer. */
export function believedFlag<Flags extends ArrayLike<number>>(
  onGround: Flags | null,
  heightFt: Float64Array,
): Flags | null {
  if (onGround === null || rangeOf(heightFt) <= CLIMBED_FT) return onGround;
  for (let i = 0; i < onGround.length; i++) if (onGround[i] !== 1) return onGround;
  return null;
}

function rangeOf(values: Float64Array): number {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  }
  return highest - lowest;
}
