// The wind of a scenario as a link calculates with it: one wind, for one channel or two.
import type { LinkWind, Weather } from '@stillprop/contracts';

/** The lowest wind given, for take-off and final turn are flown near it; none given is calm. */
export function windAtRunway({ winds }: Weather): LinkWind {
  const [lowest] = [...winds].sort((a, b) => a.heightFt - b.heightFt);
  return lowest === undefined
    ? { fromTrueDeg: 0, speedKt: 0 }
    : { fromTrueDeg: lowest.fromTrueDeg, speedKt: lowest.speedKt };
}
