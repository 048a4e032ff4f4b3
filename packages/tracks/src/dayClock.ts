// Seconds of a day made into seconds that only go on past midnight.
const DAY_S = 86_400;
/** Going back by more than this is a new day; by less it is a line out of order. */
const HALF_DAY_S = DAY_S / 2;

/** A function from the time of day (s) to seconds since the midnight before the first; one for each log. */
export function dayClock(): (timeOfDayS: number) => number {
  let day = 0;
  let last: number | null = null;
  return (timeOfDayS) => {
    if (last !== null && timeOfDayS < last - HALF_DAY_S) day += 1;
    const late = last !== null && day > 0 && timeOfDayS > last + HALF_DAY_S; // a line of the evening before
    if (!late) last = timeOfDayS;
    return (late ? day - 1 : day) * DAY_S + timeOfDayS;
  };
}
