// A wind added to the winds of a day: what a pilot means by "ten knots more on the nose".
import type { WeatherNumbers } from './request.js';
import { compassDeg, RAD_PER_DEG } from './units.js';
import { windShare } from './wind.js';

/** Height of a surface wind (ft), 10 m. */
const SURFACE_FT = 33;

/**
 * The winds of a day with another one added as a vector, at every height given, growing with height by the log law
 * (MIL-F-8785C) like a surface wind does. A calm day gets the one wind.
 *
 * @param towardsTrueDeg Direction the added wind blows towards (deg true).
 * @param speedKt Its speed at 33 ft (kt); negative blows the other way.
 */
export function withAddedWind(
  winds: WeatherNumbers['winds'],
  towardsTrueDeg: number,
  speedKt: number,
): WeatherNumbers['winds'] {
  if (speedKt === 0) return winds;
  const base = winds.length === 0 ? [{ heightFt: SURFACE_FT, fromTrueDeg: 0, speedKt: 0 }] : winds;
  return base.map(({ heightFt, fromTrueDeg, speedKt: had }) => {
    const towards = (fromTrueDeg + 180) * RAD_PER_DEG;
    const added = speedKt * windShare(heightFt, SURFACE_FT);
    const north = had * Math.cos(towards) + added * Math.cos(towardsTrueDeg * RAD_PER_DEG);
    const east = had * Math.sin(towards) + added * Math.sin(towardsTrueDeg * RAD_PER_DEG);
    return { heightFt, fromTrueDeg: compassDeg(Math.atan2(-east, -north)), speedKt: Math.hypot(north, east) };
  });
}
