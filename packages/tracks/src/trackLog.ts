// A track log as typed points, whatever file it came from, and what was left out of it.
import type { Problem, Sample } from '@stillprop/contracts';

/** What a track log's altitude is: by satellites or by pressure; `stated`: the file does not say. */
export type AltitudeSource = 'gps' | 'pressure' | 'stated';

/** One fix, in the units of a sample. Channels that the file does not hold are absent. */
export interface TrackPoint
  extends Pick<Sample, 'timeS' | 'latitudeDeg' | 'longitudeDeg' | 'altitudeFt'>,
    Partial<Omit<Sample, 'timeS' | 'latitudeDeg' | 'longitudeDeg' | 'altitudeFt'>> {}

/** A part of the file that could not be used. */
export interface LeftOut {
  /** Counted from 1: a line, or in GPX a track point. */
  readonly place: number;
  readonly why: string;
}

export interface TrackLog {
  readonly format: 'gpx' | 'igc' | 'nmea' | 'csv';
  /** Moment of the first point, ISO 8601 with Z; null where the file has no date. */
  readonly startedAt: string | null;
  readonly altitudeFrom: AltitudeSource;
  /** `timeS` from the first point, ascending strictly; two at least. */
  readonly points: readonly TrackPoint[];
  /** How many lines or points could not be used. */
  readonly leftOutCount: number;
  /** The first of them. */
  readonly leftOut: readonly LeftOut[];
  /** What a reader of the points must know, one sentence each. */
  readonly warnings: readonly string[];
}

export type TrackRead =
  | { readonly ok: true; readonly track: TrackLog }
  | { readonly ok: false; readonly problem: Problem };

/** A refusal of the whole file. */
export function refused(message: string): TrackRead {
  return { ok: false, problem: { field: 'the track log', message } };
}
