// IGC flight recorder files: the fixes (B records) with the additions that the I record names.
import { PointCollector } from './collectPoints.js';
import { dayClock } from './dayClock.js';
import type { TrackPoint, TrackRead } from './trackLog.js';

const FT_PER_M = 1 / 0.3048;
const KT_PER_KMH = 1 / 1.852;
/** time, latitude, longitude, validity, pressure altitude, GNSS altitude: FAI technical specification, A4.1. */
const FIX = /^B(\d\d)(\d\d)(\d\d)(\d\d)(\d{5})([NS])(\d{3})(\d{5})([EW])([AV])(-\d{4}|\d{5})(-\d{4}|\d{5})/;
const DATE = /^HFDTE(?:DATE:)?\s*(\d\d)(\d\d)(\d\d)/;

interface Addition {
  readonly from: number;
  readonly to: number;
  readonly code: string;
}

/**
 * GNSS altitude by default; pressure altitude where no fix has one of satellites. A fix marked V has no GNSS altitude
 * and is left out then. Of the additions, ground speed (GSP, km/h) and true track (TRT, degrees) are read; their units are from memory. Never throws.
 *
 * @see FAI Sporting Code section 3, technical specification for GNSS flight recorders, appendix A.
 */
export function readIgc(text: string): TrackRead {
  const lines = text.split(/\r\n|\r|\n/);
  const fixes = lines.map((line) => FIX.exec(line));
  const gps = fixes.some((fix) => fix !== null && fix[10] === 'A' && Number(fix[12]) !== 0);
  const points = new PointCollector('line');
  const clock = dayClock();
  let midnightS: number | null = null;
  let additions: readonly Addition[] = [];
  for (const [i, line] of lines.entries()) {
    if (points.full) break;
    const date = DATE.exec(line);
    if (date !== null) midnightS ??= midnight(date);
    else if (line.startsWith('I')) additions = additionsOf(line);
    else if (line.startsWith('B')) addFix(points, i + 1, fixes[i] ?? null, { gps, clock, additions, line });
  }
  points.warn(
    gps
      ? 'The altitude is by satellites and in IGC files counts from the WGS 84 ellipsoid, not from sea level.'
      : 'The altitude is by pressure at 1013.25 hPa, not at the QNH of the day.',
  );
  if (midnightS === null) points.warn('The file has no date (HFDTE record).');
  return points.close('igc', gps ? 'gps' : 'pressure', midnightS);
}

interface Context {
  readonly gps: boolean;
  readonly clock: (timeOfDayS: number) => number;
  readonly additions: readonly Addition[];
  readonly line: string;
}

function addFix(points: PointCollector, place: number, fix: RegExpExecArray | null, context: Context): void {
  if (fix === null) {
    points.leaveOut(place, 'it is no whole B record');
    return;
  }
  const at = (group: number) => Number(fix[group]);
  const { gps, clock } = context;
  const [hours, minutes, seconds] = [at(1), at(2), at(3)];
  if (hours > 23 || minutes > 59 || seconds > 60) {
    points.leaveOut(place, 'its time is not a time of day');
    return;
  }
  if (at(5) >= 60_000 || at(8) >= 60_000) {
    points.leaveOut(place, 'minutes must be less than 60');
    return;
  }
  if (gps && fix[10] === 'V') {
    points.leaveOut(place, 'it is marked V: no altitude by satellites');
    return;
  }
  const clockS = clock(hours * 3600 + minutes * 60 + seconds);
  points.add(place, clockS, {
    latitudeDeg: (fix[6] === 'S' ? -1 : 1) * (at(4) + at(5) / 60_000),
    longitudeDeg: (fix[9] === 'W' ? -1 : 1) * (at(7) + at(8) / 60_000),
    altitudeFt: (gps ? at(12) : at(11)) * FT_PER_M,
    ...added(context),
  });
}

function added({ additions, line }: Context): Pick<TrackPoint, 'groundspeedKt' | 'trackDeg'> {
  const value = (code: string) => {
    const slot = additions.find((addition) => addition.code === code);
    const digits = slot === undefined ? '' : line.slice(slot.from - 1, slot.to);
    return /^\d+$/.test(digits) ? Number(digits) : undefined;
  };
  const kmh = value('GSP');
  const trackDeg = value('TRT');
  return {
    ...(kmh !== undefined && { groundspeedKt: kmh * KT_PER_KMH }),
    ...(trackDeg !== undefined && { trackDeg: trackDeg % 360 }),
  };
}

/** I, how many, then for each: first and last column, and three letters. */
function additionsOf(line: string): Addition[] {
  const count = Number(line.slice(1, 3));
  const found = [...line.slice(3).matchAll(/(\d\d)(\d\d)([A-Z0-9]{3})/g)];
  return found
    .slice(0, count)
    .map(([, from, to, code]) => ({ from: Number(from), to: Number(to), code: code as string }));
}

/** The year has two digits: 80 to 99 are of the last century. */
function midnight([, day, month, year]: RegExpExecArray): number | null {
  const full = Number(year) + (Number(year) >= 80 ? 1900 : 2000);
  const date = new Date(Date.UTC(full, Number(month) - 1, Number(day)));
  return date.getUTCMonth() === Number(month) - 1 && date.getUTCDate() === Number(day) ? date.getTime() / 1000 : null;
}
