// Wind at any height above the runway from the one or more winds a pilot has, as components in the runway frame.
import type { WeatherNumbers } from './request.js';
import { M_PER_FT, MPS_PER_KT, RAD_PER_DEG } from './units.js';

// MIL-F-8785C, 3.7.3.2: mean wind ln(h/z0)/ln(20/z0) of the wind at 20 ft, z0 = 0.15 ft for Category C,
// stated for 3 ft to 1000 ft.
const ROUGHNESS_FT = 0.15;
const LOG_LAW_LOW_FT = 3;
const LOG_LAW_HIGH_FT = 1_000;

/** Where {@link WindProfile.sampleAt} finds the height (m). */
export const WIND_HEIGHT = 2;
/** Numbers an array for {@link WindProfile.sampleAt} has. */
export const WIND_SIZE = 3;

/** Wind over one runway; `along` blows in the take-off direction, `across` to the right of it (m/s). */
export interface WindProfile {
  /** Writes along and across (m/s) at a height above the runway (m) into `into[0]` and `into[1]`. */
  sample(heightM: number, into: Float64Array): void;
  /**
   * The same for the height in `at[WIND_HEIGHT]`, into `at[0]` and `at[1]`: for the loop of the integrator, where a
   * number handed over in a call would be put in a box.
   */
  sampleAt(at: Float64Array): void;
  /** True when no wind blows across the runway at any height. */
  readonly alongOnly: boolean;
}

/**
 * Mean wind by height.
 *
 * One wind: the log law through it, unchanged in direction, constant above 1 000 ft and, since the law is stated
 * from 3 ft up, below 3 ft. Two or more: vector components interpolated linearly in ln((h + z0)/z0) between the
 * heights given, constant above the highest, the log law of the lowest one below it. Direction and speed are never
 * interpolated apart.
 *
 * @param winds Height above the runway (ft), true direction it blows from (deg), speed (kt); any order, heights
 *   all different; none means calm.
 * @param headingTrueDeg Take-off direction (deg true).
 * @see MIL-F-8785C (1980), 3.7.3.2.
 */
export function windProfile(winds: WeatherNumbers['winds'], headingTrueDeg: number): WindProfile {
  const sorted = [...winds].sort((a, b) => a.heightFt - b.heightFt);
  const count = sorted.length;
  const scale = new Float64Array(count); // ln((h + z0)/z0) of each height
  const along = new Float64Array(count);
  const across = new Float64Array(count);
  sorted.forEach((wind, index) => {
    const towards = (wind.fromTrueDeg + 180 - headingTrueDeg) * RAD_PER_DEG;
    scale[index] = logScale(wind.heightFt);
    along[index] = wind.speedKt * MPS_PER_KT * Math.cos(towards);
    across[index] = wind.speedKt * MPS_PER_KT * Math.sin(towards);
  });
  const calm = sorted.every((wind) => wind.speedKt === 0);
  const lowestFt = sorted[0]?.heightFt ?? 0;
  const highestScale = scale[count - 1] ?? 0;
  const lowestLaw = logLaw(lowestFt);
  const held = new Float64Array(WIND_SIZE);
  return {
    alongOnly: across.every((component) => Math.abs(component) < 1e-9),
    sample(heightM, into) {
      held[WIND_HEIGHT] = heightM;
      this.sampleAt(held);
      into[0] = held[0] as number;
      into[1] = held[1] as number;
    },
    sampleAt(at) {
      if (calm) {
        at[0] = 0;
        at[1] = 0;
        return;
      }
      const heightFt = (at[WIND_HEIGHT] as number) / M_PER_FT;
      if (count === 1 || heightFt <= lowestFt) {
        const share = logLaw(heightFt) / lowestLaw;
        at[0] = (along[0] as number) * share;
        at[1] = (across[0] as number) * share;
        return;
      }
      const level = logScale(heightFt);
      if (level >= highestScale) {
        at[0] = along[count - 1] as number;
        at[1] = across[count - 1] as number;
        return;
      }
      let upper = 1;
      while ((scale[upper] as number) < level) upper++;
      const low = scale[upper - 1] as number;
      const share = (level - low) / ((scale[upper] as number) - low);
      at[0] = (along[upper - 1] as number) * (1 - share) + (along[upper] as number) * share;
      at[1] = (across[upper - 1] as number) * (1 - share) + (across[upper] as number) * share;
    },
  };
}

/** Mean wind at a height as a share of that at another (both ft above the runway), by the log law. */
export function windShare(heightFt: number, referenceFt: number): number {
  return logLaw(heightFt) / logLaw(referenceFt);
}

function logScale(heightFt: number): number {
  return Math.log((heightFt + ROUGHNESS_FT) / ROUGHNESS_FT);
}

function logLaw(heightFt: number): number {
  const held = heightFt < LOG_LAW_LOW_FT ? LOG_LAW_LOW_FT : Math.min(heightFt, LOG_LAW_HIGH_FT);
  return Math.log(held / ROUGHNESS_FT);
}
