// The flown track as comma-separated values: a row every so many seconds from the failure, the last one the contact.
import type { FlownTrack } from '@stillprop/physics';
import { MPS_PER_FPM, MPS_PER_KT, RAD_PER_DEG } from '@stillprop/physics';
import { type Cell, csv } from '../csv.js';

/**
 * Columns. `alongFt` from brake release in the take-off direction, `acrossFt` right positive, `heightFt` above the
 * runway; `flightPathDeg` against the air, `verticalSpeedFpm` and `bankDeg` (right) positive upwards and to the right;
 * `stallKcas` at the load factor then flown, `stallMargin` the airspeed over it: both empty while the wing carries nothing.
 */
export const TRACK_COLUMNS = [
  'timeS',
  'phase',
  'alongFt',
  'acrossFt',
  'heightFt',
  'airspeedKcas',
  'airspeedKtas',
  'groundspeedKt',
  'headingTrueDeg',
  'bankDeg',
  'flightPathDeg',
  'verticalSpeedFpm',
  'loadFactor',
  'stallKcas',
  'stallMargin',
] as const;

export function flyCsv(track: FlownTrack): string {
  const rows = track.timeS.map((timeS, i): Cell[] => {
    const at = (column: readonly number[]) => column[i] ?? null;
    const verticalSpeedFpm = -(track.sinkFpm[i] ?? 0);
    const [kcas, ktas, stallKcas] = [track.kcas[i] ?? 0, track.ktas[i] ?? 0, track.stallKcas[i] ?? 0];
    return [
      timeS,
      track.phase[i] ?? null,
      at(track.alongFt),
      at(track.acrossFt),
      at(track.heightFt),
      kcas,
      ktas,
      at(track.groundspeedKt),
      at(track.headingTrueDeg),
      at(track.bankDeg),
      pathDeg(verticalSpeedFpm, ktas),
      verticalSpeedFpm,
      at(track.loadFactor),
      stallKcas > 0 ? stallKcas : null,
      stallKcas > 0 ? kcas / stallKcas : null,
    ];
  });
  return csv(TRACK_COLUMNS, rows);
}

/** Angle of the flight path against the air; null standing still. */
function pathDeg(verticalSpeedFpm: number, ktas: number): number | null {
  if (!(ktas > 0)) return null;
  const sine = (verticalSpeedFpm * MPS_PER_FPM) / (ktas * MPS_PER_KT);
  return Math.asin(Math.max(-1, Math.min(1, sine))) / RAD_PER_DEG;
}
