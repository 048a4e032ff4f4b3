// What the model shows beside a flight, computed in the page: the technique asked, and the ground within reach, from the
// state in which the power was lost.
import type { Ghost, Reach } from '@stillprop/charts';
import type { ReturnMoment } from '@stillprop/contracts';

const EVERY_S = 0.5;

/** @returns null where nothing can be flown from there. The model is fetched only when it is needed. */
export async function ghostOf(moment: ReturnMoment | undefined): Promise<Ghost | null> {
  if (moment === undefined || !moment.ok) return null;
  const { flyAttempt } = await import('@stillprop/physics');
  try {
    const { request, start } = moment.moment;
    const { track } = flyAttempt(request, { start, trackEveryS: EVERY_S });
    return {
      ...track,
      timeS: track.timeS.map((sinceS) => moment.moment.timeS + sinceS),
      airspeedKcas: track.kcas,
      verticalSpeedFpm: track.sinkFpm.map((sinkFpm) => -sinkFpm),
    };
  } catch (error) {
    if (error instanceof RangeError) return null; // beyond what the model flies: the verdict says so
    throw error;
  }
}

/** @returns null where nothing can be flown from there. */
export async function reachOf(moment: ReturnMoment | undefined): Promise<Reach | null> {
  if (moment === undefined || !moment.ok) return null;
  const { footprint } = await import('@stillprop/physics');
  const { request, start } = moment.moment;
  try {
    const { polygon, reaches } = footprint(request, { start });
    return { outline: polygon, ends: reaches };
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
