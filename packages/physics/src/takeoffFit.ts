// The resistance of a take-off run that makes it end in the handbook distance.

const LEAST_MPS2 = -6;
const MOST_MPS2 = 8;
const ROUNDS = 16;

/**
 * Resistance (m/s², beyond drag) with which a take-off reaches 50 ft in a distance, by bisection to about
 * 2·10⁻⁴ m/s². Negative where the thrust line fitted in the climb gives less at low speed than the handbook's
 * distance needs. The nearer end of the range when no resistance within it fits.
 *
 * @param distanceM Brake release to 50 ft.
 * @param distanceWith Distance to 50 ft with a resistance; infinite when the aeroplane never gets there.
 */
export function fitTakeoffResistance(distanceM: number, distanceWith: (resistanceMps2: number) => number): number {
  let low = LEAST_MPS2;
  let high = MOST_MPS2;
  for (let i = 0; i < ROUNDS; i++) {
    const middle = (low + high) / 2;
    if (distanceWith(middle) < distanceM) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
