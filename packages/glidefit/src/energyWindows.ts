// Energy height of a glide as window means, and what each drag coefficient would have cost of it by then.
import { type Aeroplane, GRAVITY_MPS2, levelAirspeedMps, type WindProfile } from '@stillprop/physics';
import type { GlideColumns } from './glideColumns.js';
import type { Segment } from './glideSegments.js';
import { type Windowed, windowMeans } from './windowing.js';

/** One window. Energy heights count from the start of their stretch (m). */
export interface EnergyWindow extends Windowed {
  /** Height + V²/2g, with what gear, flap and wind gradient took added back. */
  readonly energyM: number;
  /** Energy height lost by now for each unit of CD0 and of K. */
  readonly zeroLiftM: number;
  readonly inducedM: number;
  /** What has been added back by now for each m/s that the wind changes to the north and the east, top to bottom. */
  readonly windNorthM: number;
  readonly windEastM: number;
}

/**
 * Windows of all stretches. With a dead engine, moving with the air, d(h + V²/2g)/dt = -D·V/W - V·(dw/dt)/g: drag
 * takes the energy, and so does an air mass that changes its speed on the way down. D·V/W splits into
 * ½ρV³S/W·(CD0 + ΔCD of gear and flap) and ½ρV³S/W·CL²·K with CL = n·W/(½ρV²S), all of it from what was recorded.
 *
 * @see Rutowski, Journal of the Aeronautical Sciences 21(3), 1954, for the energy height (from memory); its rate as
 *   a measure of drag is common practice in flight test.
 */
export function energyWindows(
  columns: GlideColumns,
  segments: readonly Segment[],
  plane: Aeroplane,
  wind: WindProfile,
  shareAt: (heightM: number) => number,
): EnergyWindow[] {
  return windowMeans(columns, segments, (segment) => energiesOf(columns, segment, plane, wind, shareAt)).map(
    ({ segment, midS, means: [energy, zero, induced, north, east] }) => ({
      segment,
      midS,
      energyM: energy as number,
      zeroLiftM: zero as number,
      inducedM: induced as number,
      windNorthM: north as number,
      windEastM: east as number,
    }),
  );
}

function energiesOf(
  { timeS, heightM, tasMps, densityKgM3, loadFactor, climbMps, headingRad }: GlideColumns,
  { first, configurationDrag }: Segment,
  plane: Aeroplane,
  wind: WindProfile,
  shareAt: (heightM: number) => number,
) {
  const now = new Float64Array(2);
  const before = new Float64Array(2);
  let zeroM = 0;
  let inducedM = 0;
  let addedM = 0;
  let windNorthM = 0;
  let windEastM = 0;
  let rateBefore = { zero: 0, induced: 0 };
  const startM = energyHeightM(heightM[first] as number, tasMps[first] as number);
  return (i: number): readonly number[] => {
    const tas = tasMps[i] as number;
    const pressureN = 0.5 * (densityKgM3[i] as number) * tas * tas * plane.wingAreaM2;
    const lift = ((loadFactor[i] as number) * plane.weightN) / pressureN;
    const zero = (pressureN * tas) / plane.weightN;
    const rates = { zero, induced: zero * lift * lift };
    wind.sample(heightM[i] as number, now);
    if (i > first) {
      const dtS = (timeS[i] as number) - (timeS[i - 1] as number);
      const lostM = ((rates.zero + rateBefore.zero) / 2) * dtS;
      zeroM += lostM;
      inducedM += ((rates.induced + rateBefore.induced) / 2) * dtS;
      const horizontal = levelAirspeedMps(tas, climbMps[i] as number);
      const north = (horizontal * Math.cos(headingRad[i] as number)) / GRAVITY_MPS2;
      const east = (horizontal * Math.sin(headingRad[i] as number)) / GRAVITY_MPS2;
      const share = shareAt(heightM[i] as number) - shareAt(heightM[i - 1] as number);
      windNorthM += north * share;
      windEastM += east * share;
      addedM +=
        configurationDrag * lostM +
        north * ((now[0] as number) - (before[0] as number)) +
        east * ((now[1] as number) - (before[1] as number));
    }
    rateBefore = rates;
    before.set(now);
    const energyM = energyHeightM(heightM[i] as number, tas) - startM + addedM;
    return [energyM, zeroM, inducedM, windNorthM, windEastM];
  };
}

/** Height plus what the speed would give in a frictionless pull-up (m). */
export function energyHeightM(heightM: number, tasMps: number): number {
  return heightM + (tasMps * tasMps) / (2 * GRAVITY_MPS2);
}
