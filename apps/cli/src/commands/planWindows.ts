// A window of heights in words: a little inside its edges, and where the scan ended told as that.
import { ISLAND_FT, isIsland, type ReturnWindow } from '@stillprop/physics';
import { downTo10, ft, thousands, upTo10 } from '../sheet.js';
import type { PlanAnswer } from './planAnswer.js';

/** "640 ft to 970 ft", "640 ft to 3,000 ft, where the scan ended", "about 805 ft only". */
export function windowWords({ fromFt, toFt, fromIsScanEnd, toIsScanEnd }: ReturnWindow): string {
  const lowFt = fromIsScanEnd ? fromFt : upTo10(fromFt);
  const highFt = toIsScanEnd ? toFt : downTo10(toFt);
  if (highFt <= lowFt) return narrow(fromFt, toFt);
  const low = `${ft(lowFt)}${fromIsScanEnd ? ', where the scan began,' : ''}`;
  return `${low} to ${ft(highFt)}${toIsScanEnd ? ', where the scan ended' : ''}`;
}

/** Windows that stop on the runway: those to plan with, and the islands, from which one returns by luck. */
export function stopsOf({ returnWindows }: { readonly returnWindows: readonly ReturnWindow[] }): {
  readonly wide: readonly ReturnWindow[];
  readonly islands: readonly ReturnWindow[];
} {
  const stops = returnWindows.filter(({ outcome }) => outcome === 'stopped-on-runway');
  return { wide: stops.filter((window) => !isIsland(window)), islands: stops.filter(isIsland) };
}

/** Whether a lowest return is the beginning of the scan: it works from lower down too, for all that is known. */
export const isScanStart = (lowestReturnFt: number | null, { scan }: PlanAnswer) => lowestReturnFt === scan.fromFt;

/** Why an island is no height to return from. */
export const ISLAND_WORDS = `luck: less than ${ISLAND_FT} ft wide`;

/** Too narrow to be told in steps of 10 ft, and so to be flown to. */
function narrow(fromFt: number, toFt: number): string {
  return toFt - fromFt < 1 ? `${ft(fromFt)} only` : `${thousands(Math.ceil(fromFt))} to ${ft(Math.floor(toFt))} only`;
}
