// The trade behind the climb speed: a faster climb is farther out at the same height, and has more speed to turn with.
import { checkAttemptInputs } from './checkRequest.js';
import { heightLostFt } from './heightLostByTurn.js';
import { type FlightCount, lowestReturnNearFt } from './lowestReturn.js';
import type { FlyRequest } from './request.js';
import { buildScene } from './scene.js';
import { X } from './state.js';
import { M_PER_FT } from './units.js';

/** Height at which the distance flown is told (ft above the runway). */
const TRADE_HEIGHT_FT = 1_000;
/** Speeds closer together than this say the same (kt). */
const ALIKE_KT = 2;
/** A speed between the slowest and the fastest is worth a row when it is so far from every other (kt). */
const APART_KT = 4;

/** One climb speed, everything else of the request kept. */
export interface ClimbChoice {
  readonly climbKcas: number;
  /** The climb speed of the technique. */
  readonly planned: boolean;
  /** From brake release when passing `heightFt` (ft). */
  readonly heightFt: number;
  readonly distanceFt: number;
  /** From a failure there to wings level 180° round (ft). */
  readonly heightLostTo180Ft: number;
  /** Lowest failure height from which a return stops on the runway (ft); null: none up to 6 000 ft. */
  readonly lowestReturnFt: number | null;
}

export interface ClimbTrade {
  /** In rising order of speed. */
  readonly choices: readonly ClimbChoice[];
  /** Flights the search for the lowest returns took. */
  readonly flights: number;
}

/**
 * What each climb speed of the handbook, that of the technique and the one halfway are worth: how far away the aeroplane is at 1 000 ft,
 * what a turn through 180° costs from there, and from how low a return works. Speeds below the stall or no aeroplane
 * could climb at are left out, and those within 2 kt of one before.
 *
 * @param options.lowestReturnFt The lowest return of the technique as known from `returnWindows`: told as it is for the
 *   planned speed, and where the other searches begin. Null: it has none; absent: searched. They then begin at the
 *   failure height of the request.
 * @throws {RangeError} As `flyAttempt`.
 */
export function climbTrade(
  request: FlyRequest,
  options: {
    readonly lowestReturnFt?: number | null | undefined;
    readonly onProgress?: ((share: number) => void) | undefined;
  } = {},
): ClimbTrade {
  checkAttemptInputs(request, undefined);
  const speeds = speedsOf(request);
  const count: FlightCount = { flights: 0 };
  const choices = speeds.flatMap((climbKcas, index): ClimbChoice[] => {
    const { technique, failure } = request;
    const asked: FlyRequest = {
      ...request,
      technique: { ...technique, climbKcas },
      failure: { ...failure, heightFt: TRADE_HEIGHT_FT },
    };
    const planned = climbKcas === technique.climbKcas;
    try {
      checkAttemptInputs(asked, undefined);
      const scene = buildScene(asked, undefined);
      const lost = heightLostFt(scene, technique.turn === 'left' ? -1 : 1, 180);
      const guessFt = options.lowestReturnFt ?? failure.heightFt;
      const lowestReturnFt =
        planned && options.lowestReturnFt !== undefined
          ? options.lowestReturnFt
          : lowestReturnNearFt(asked, guessFt, undefined, count);
      options.onProgress?.((index + 1) / speeds.length);
      return [
        {
          climbKcas,
          planned,
          heightFt: TRADE_HEIGHT_FT,
          distanceFt: (scene.departed.state[X] as number) / M_PER_FT,
          heightLostTo180Ft: lost.heightLostFt,
          lowestReturnFt,
        },
      ];
    } catch (error) {
      if (error instanceof RangeError && !planned) return [];
      throw error;
    }
  });
  return { choices, flights: count.flights };
}

/** The technique's speed, those of the climb points that differ from it, and the one halfway; in rising order. */
function speedsOf({ aircraft, technique }: FlyRequest): number[] {
  const speeds = [technique.climbKcas];
  for (const { kcas } of aircraft.climb)
    if (speeds.every((other) => Math.abs(other - kcas) >= ALIKE_KT)) speeds.push(kcas);
  const between = Math.round((Math.min(...speeds) + Math.max(...speeds)) / 2);
  if (speeds.every((other) => Math.abs(other - between) >= APART_KT)) speeds.push(between);
  return speeds.sort((a, b) => a - b);
}
