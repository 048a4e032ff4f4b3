// Gathers the points of a track log in time order, counts what cannot be used, and closes the log.
import { CHANNEL_BOUNDS, type Sample } from '@stillprop/contracts';
import { type LeftOut, refused, type TrackLog, type TrackPoint, type TrackRead } from './trackLog.js';

/** More than fourteen hours at ten points a second. */
const MOST_POINTS = 500_000;
/** Enough to see what is wrong; the rest is counted. */
const MOST_NAMED = 10;

export class PointCollector {
  readonly #points: TrackPoint[] = [];
  readonly #leftOut: LeftOut[] = [];
  readonly #warnings = new Set<string>();
  #leftOutCount = 0;
  #firstS: number | null = null;
  #tooMany = false;

  /** @param what What `place` counts: `line` or `track point`. */
  constructor(private readonly what: 'line' | 'track point') {}

  /** Full: what comes now is not looked at. */
  get full(): boolean {
    return this.#tooMany;
  }

  leaveOut(place: number, why: string): void {
    this.#leftOutCount += 1;
    if (this.#leftOut.length < MOST_NAMED) this.#leftOut.push({ place, why });
  }

  warn(sentence: string): void {
    this.#warnings.add(sentence);
  }

  /** A point with its time on the file's own clock (s); only one later than all before it and inside the bounds is taken. */
  add(place: number, clockS: number, channels: Omit<TrackPoint, 'timeS'>): void {
    if (this.#points.length >= MOST_POINTS) {
      this.#tooMany = true;
      return;
    }
    for (const [channel, value] of Object.entries(channels)) {
      if (typeof value !== 'number') continue;
      const [lowest, highest] = CHANNEL_BOUNDS[channel as keyof Sample];
      if (!(value >= lowest && value <= highest)) {
        this.leaveOut(place, `${channel} must be from ${lowest} to ${highest}, got ${value}`);
        return;
      }
    }
    if (!Number.isFinite(clockS)) {
      this.leaveOut(place, 'it has no time');
      return;
    }
    this.#firstS ??= clockS;
    const timeS = Math.round((clockS - this.#firstS) * 1000) / 1000;
    if (timeS <= (this.#points.at(-1)?.timeS ?? -1)) {
      this.leaveOut(place, 'its time is not later than the one before');
      return;
    }
    this.#points.push({ ...channels, timeS });
  }

  /** @param clockZeroS When the file's clock was 0, in seconds since 1970 in UTC; null: not known. */
  close(format: TrackLog['format'], altitudeFrom: TrackLog['altitudeFrom'], clockZeroS: number | null): TrackRead {
    const { what } = this;
    if (this.#tooMany) return refused(`the track log has more than ${MOST_POINTS} points: cut it to the one flight`);
    if (this.#points.length < 2) {
      const [first] = this.#leftOut;
      const why = first === undefined ? '' : `; ${what} ${first.place} was left out: ${first.why}`;
      return refused(
        `the track log must hold at least two points with time, position and altitude, got ${this.#points.length}${why}`,
      );
    }
    const [first] = this.#leftOut;
    const counted = first === undefined ? [] : [leftOutSentence(what, this.#leftOutCount, first)];
    const startMs = ((clockZeroS ?? Number.NaN) + (this.#firstS as number)) * 1000;
    const startedAt = Math.abs(startMs) <= 8.64e15 ? new Date(startMs).toISOString() : null;
    return {
      ok: true,
      track: {
        format,
        startedAt,
        altitudeFrom,
        points: this.#points,
        leftOutCount: this.#leftOutCount,
        leftOut: this.#leftOut,
        warnings: [...counted, ...this.#warnings],
      },
    };
  }
}

function leftOutSentence(what: string, count: number, first: LeftOut): string {
  const lead = count === 1 ? `1 ${what} was left out` : `${count} ${what}s were left out`;
  return `${lead}; the first is ${what} ${first.place}: ${first.why}.`;
}
