// Energy height of a glide as window means, and what each drag coefficient would have cost of it by then.
import { type Aeroplane, GRAVITY_MPS2, type WindProfile } from '@stillprop/physics';
import type { GlideColumns } from './glideColumns.js';
import type { Segment } from './glideSegments.js';

/** Length of a window (s); longer where the glide is, so that there are at most this many. */
const WINDOW_S = 1;
const MOST_WINDOWS = 120;

/** One window. Energy heights count from the start of their stretch (m). */
export interface EnergyWindow {
  readonly segment: number;
  readonly midS: number;
  /** Height + V²/2g, with what gear, flap and wind gradient took added back. */
  readonly energyM: number;
  /** Energy height lost by now for each unit of CD0 and of K. */
  readonly zeroLiftM: number;
  readonly inducedM: number;
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
): EnergyWindow[] {
  const spanOf = ({ first, last }: Segment) => (columns.timeS[last] as number) - (columns.timeS[first] as number);
  const totalS = segments.reduce((sum, segment) => sum + spanOf(segment), 0);
  const lengthS = Math.max(WINDOW_S, totalS / MOST_WINDOWS);
  return segments.flatMap((segment, index) => {
    const count = Math.max(Math.floor(spanOf(segment) / lengthS), 1);
    return windowsOf(columns, segment, index, count, plane, wind);
  });
}

function windowsOf(
  columns: GlideColumns,
  { first, last, configurationDrag }: Segment,
  segment: number,
  count: number,
  plane: Aeroplane,
  wind: WindProfile,
): EnergyWindow[] {
  const { timeS, heightM, tasMps, densityKgM3, loadFactor, climbMps, headingRad } = columns;
  const startS = timeS[first] as number;
  const spanS = (timeS[last] as number) - startS;
  const sums = Array.from({ length: count }, () => ({ n: 0, t: 0, energy: 0, zero: 0, induced: 0 }));
  const now = new Float64Array(2);
  const before = new Float64Array(2);
  let zeroM = 0;
  let inducedM = 0;
  let addedM = 0;
  let rateBefore = { zero: 0, induced: 0 };
  const startM = energyHeightM(heightM[first] as number, tasMps[first] as number);
  for (let i = first; i <= last; i++) {
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
      const horizontal = Math.sqrt(Math.max(tas * tas - (climbMps[i] as number) ** 2, 0));
      const heading = headingRad[i] as number;
      const along = Math.cos(heading) * ((now[0] as number) - (before[0] as number));
      const across = Math.sin(heading) * ((now[1] as number) - (before[1] as number));
      addedM += configurationDrag * lostM + (horizontal * (along + across)) / GRAVITY_MPS2;
    }
    rateBefore = rates;
    before.set(now);
    const at = Math.min(Math.floor((((timeS[i] as number) - startS) / spanS) * count), count - 1);
    const sum = sums[at];
    if (sum === undefined) continue;
    sum.n++;
    sum.t += timeS[i] as number;
    sum.energy += energyHeightM(heightM[i] as number, tas) - startM + addedM;
    sum.zero += zeroM;
    sum.induced += inducedM;
  }
  return sums
    .filter(({ n }) => n > 0)
    .map(({ n, t, energy, zero, induced }) => ({
      segment,
      midS: t / n,
      energyM: energy / n,
      zeroLiftM: zero / n,
      inducedM: induced / n,
    }));
}

/** Height plus what the speed would give in a frictionless pull-up (m). */
export function energyHeightM(heightM: number, tasMps: number): number {
  return heightM + (tasMps * tasMps) / (2 * GRAVITY_MPS2);
}
