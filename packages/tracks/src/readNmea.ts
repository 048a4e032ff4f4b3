// A log of NMEA 0183 sentences, one a line: positions and altitudes of GGA, with speed and track of the same second.
import { decodeNmea0183 } from '@stillprop/links';
import { PointCollector } from './collectPoints.js';
import { dayClock } from './dayClock.js';
import type { TrackPoint, TrackRead } from './trackLog.js';

const DAY_S = 86_400;

interface Epoch {
  readonly place: number;
  readonly timeOfDayS: number;
  readonly channels: Partial<Omit<TrackPoint, 'timeS'>>;
}

/** A point is made of the sentences that tell the same time of day; one without altitude is left out. Never throws. */
export function readNmea(text: string): TrackRead {
  const points = new PointCollector('line');
  const encoder = new TextEncoder();
  const clock = dayClock();
  let firstDay: number | null = null;
  let epoch: Epoch | null = null;
  const closeEpoch = () => {
    if (epoch !== null) addEpoch(points, epoch, clock);
    epoch = null;
  };
  for (const [i, raw] of text.split(/\r\n|\r|\n/).entries()) {
    if (points.full) break;
    if (raw.trim() === '') continue;
    const decoded = decodeNmea0183(encoder.encode(raw.trim()));
    for (const { reason, field } of decoded.refused)
      points.leaveOut(i + 1, field === undefined ? `the sentence is refused (${reason})` : `${field} cannot be read`);
    for (const { time, channels } of decoded.messages) {
      const open: Epoch | null = epoch;
      if (time?.period !== undefined && firstDay === null) firstDay = time.period;
      if (time === undefined) {
        if (open !== null) epoch = { ...(open as Epoch), channels: { ...(open as Epoch).channels, ...channels } };
        continue;
      }
      if (open !== null && (open as Epoch).timeOfDayS !== time.seconds) closeEpoch();
      const before: Partial<Omit<TrackPoint, 'timeS'>> = (epoch as Epoch | null)?.channels ?? {};
      epoch = { place: i + 1, timeOfDayS: time.seconds, channels: { ...before, ...channels } };
    }
  }
  closeEpoch();
  if (firstDay === null) points.warn('The log has no date (no RMC sentence that tells it).');
  return points.close('nmea', 'gps', firstDay === null ? null : firstDay * DAY_S);
}

function addEpoch(points: PointCollector, epoch: Epoch, clock: (timeOfDayS: number) => number): void {
  const { latitudeDeg, longitudeDeg, altitudeFt, ...others } = epoch.channels;
  if (latitudeDeg === undefined || longitudeDeg === undefined) {
    points.leaveOut(epoch.place, 'it has no position');
    return;
  }
  if (altitudeFt === undefined) {
    points.leaveOut(epoch.place, 'it has no altitude (GGA)');
    return;
  }
  points.add(epoch.place, clock(epoch.timeOfDayS), { ...others, latitudeDeg, longitudeDeg, altitudeFt });
}
