// One attempt as columns for charts: thinned evenly, missing channels null.
import type { Recording, Trace } from '@stillprop/contracts';
import { flightOf } from './flight.js';
import { unmeasuredOf } from './unmeasured.js';
import { roundedOrNull } from './words.js';

/** Points of a trace when none are asked for: more than a chart has pixels. */
const DEFAULT_POINTS = 2_000;

/**
 * Columns of equal length, time ascending. Samples are left out evenly until at most `maxPoints` (2 or more) remain;
 * the first and the last stay. The load factor is null when it was not recorded, the stall speed then rests on one
 * estimated from bank and path. Airspeed that a track log did not measure is null, and the stall speed beside it.
 */
export function traceOf(recording: Recording, maxPoints = DEFAULT_POINTS): Trace {
  const flight = flightOf(recording);
  const points = Math.min(flight.count, Math.max(2, Math.floor(maxPoints)));
  const chosen = Array.from({ length: points }, (_, i) =>
    points === 1 ? 0 : Math.round((i * (flight.count - 1)) / (points - 1)),
  );
  const column = (values: Float64Array | null, decimals: number) =>
    chosen.map((i) => roundedOrNull(values?.[i] ?? null, decimals));
  const hasSpeed = unmeasuredOf(recording, ['indicatedAirspeedKt']).length === 0;
  const places = chosen.map((i) => flight.place(flight.timeS[i] as number));
  return {
    timeS: chosen.map((i) => roundedOrNull(flight.timeS[i] as number) as number),
    heightFt: column(flight.heightFt, 1),
    indicatedAirspeedKt: column(hasSpeed ? flight.iasKt : null, 1),
    stallSpeedKt: column(hasSpeed ? flight.stallKt : null, 1),
    bankDeg: column(flight.bankDeg, 1),
    verticalSpeedFpm: column(flight.verticalSpeedFpm, 0),
    loadFactor: column(flight.loadFactorFrom === 'recorded' ? flight.loadFactor : null, 2),
    powerFraction: column(flight.powerFraction, 3),
    alongFt: places.map((place) => roundedOrNull(place?.alongFt, 1)),
    acrossFt: places.map((place) => roundedOrNull(place?.acrossFt, 1)),
    headingDeg: chosen.map((i) => roundedOrNull(compass(flight.headingDeg[i] as number), 1)),
  };
}

function compass(angleDeg: number): number {
  const turned = angleDeg % 360;
  return turned < 0 ? turned + 360 : turned;
}
