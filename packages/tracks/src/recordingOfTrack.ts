// A track log made into a recording that says what the log did not measure.
import {
  CHANNEL_BOUNDS,
  isPlaced,
  type Parsed,
  RECORDING_FORMAT,
  RECORDING_VERSION,
  type Recording,
  type Sample,
  type ScenarioBundle,
} from '@stillprop/contracts';
import type { TrackLog, TrackPoint } from './trackLog.js';
import { type Motion, motionOf } from './trackMotion.js';

/** Channels of a sample that are filled from the track where the log has none. */
const INFERRED = ['indicatedAirspeedKt', 'headingDeg', 'bankDeg', 'pitchDeg', 'verticalSpeedFpm'] as const;
/** Standing or taxiing below this, before the take-off. */
const STANDING_KT = 15;

export interface ImportOptions {
  /** Of the new recording; the same for the same file, so that it is never taken twice. */
  readonly attemptId: string;
  readonly station: string;
  readonly student: string | null;
  /** Moment of the first point, ISO 8601 with Z, where the log has no date. */
  readonly startedAt?: string;
  /** Loss of power in the log's seconds; absent: where the climb ends (the highest point). */
  readonly failedAtS?: number;
}

/**
 * Airspeed, heading, bank, pitch and vertical speed stand in the samples as inferred from the track (groundspeed in
 * place of airspeed, track in place of heading) and in the header as not measured, so that nothing marks them. A log
 * that begins standing has its altitude set to the runway's elevation there.
 */
export function recordingOfTrack(track: TrackLog, bundle: ScenarioBundle, options: ImportOptions): Parsed<Recording> {
  const { runway, scenario } = bundle;
  const refuse = (field: string, message: string): Parsed<Recording> => ({ ok: false, problem: { field, message } });
  if (!isPlaced(runway))
    return refuse('runway.start', 'runway.start is missing: a track log needs a runway with a position');
  const startedAt = track.startedAt ?? options.startedAt;
  if (startedAt === undefined) return refuse('startedAt', 'startedAt is missing: the track log has no date');
  const { points } = track;
  const lastS = (points.at(-1) as TrackPoint).timeS;
  const { failedAtS } = options;
  if (failedAtS !== undefined && !(failedAtS >= 0 && failedAtS <= lastS))
    return refuse('failedAtS', `failedAtS must be from 0 to ${lastS} s, where the track log ends, got ${failedAtS}`);
  const motion = motionOf(points, runway);
  const raiseFt = scenario.practice.from === 'runway' ? toRunwayElevation(points, motion, runway.elevationFt) : null;
  const unmeasured = INFERRED.filter((channel) => points.some((point) => point[channel] === undefined));
  const samples = points.map((point, i) => sampleOf(point, motion[i] as Motion, raiseFt ?? 0));
  const highest = samples.reduce((best, sample) => (sample.altitudeFt > best.altitudeFt ? sample : best));
  const lossS = failedAtS ?? highest.timeS;
  const contactTold = points.some(({ onGround }) => onGround !== undefined);
  const { failure } = scenario;
  return {
    ok: true,
    value: {
      header: {
        kind: 'header',
        format: RECORDING_FORMAT,
        version: RECORDING_VERSION,
        attemptId: options.attemptId,
        startedAt,
        station: options.station,
        student: options.student,
        ...bundle,
        drawn: { kind: 'total', heightFt: null, powerFraction: 0, propeller: failure.propeller },
        link: `track log (${track.format})`,
        imported: {
          format: track.format,
          lossFrom: failedAtS === undefined ? 'climb-end' : 'given',
          unmeasured,
          notes: notesOf(track, unmeasured, raiseFt, failedAtS, contactTold),
        },
      },
      samples,
      events: [
        { kind: 'event', timeS: lossS, code: 'fail-now', text: 'Loss of power, as the import was told or found it.' },
      ],
      end: { kind: 'end', timeS: lastS, reason: 'link-lost', text: 'The track log ends.', samples: samples.length },
    },
  };
}

function sampleOf(point: TrackPoint, motion: Motion, raiseFt: number): Sample {
  const { groundspeedKt = motion.groundspeedKt, trackDeg = motion.trackDeg } = point;
  const inferred = {
    groundspeedKt,
    trackDeg,
    indicatedAirspeedKt: groundspeedKt,
    headingDeg: trackDeg,
    bankDeg: motion.bankDeg,
    pitchDeg: motion.pathDeg,
    verticalSpeedFpm: motion.verticalSpeedFpm,
  };
  for (const [channel, value] of Object.entries(inferred) as [keyof typeof inferred, number][]) {
    const [lowest, highest] = CHANNEL_BOUNDS[channel];
    inferred[channel] = Math.min(Math.max(value, lowest), highest);
  }
  return { ...inferred, ...point, altitudeFt: point.altitudeFt + raiseFt };
}

/** What must be added to the altitudes for the standing aeroplane to be at the runway's elevation; null: it never stood. */
function toRunwayElevation(
  points: readonly TrackPoint[],
  motion: readonly Motion[],
  elevationFt: number,
): number | null {
  const moves = motion.findIndex(({ groundspeedKt }) => groundspeedKt >= STANDING_KT);
  if (moves <= 0) return null;
  const stood = points.slice(0, moves).map(({ altitudeFt }) => altitudeFt);
  return elevationFt - stood.reduce((sum, altitudeFt) => sum + altitudeFt, 0) / stood.length;
}

function notesOf(
  { altitudeFrom, warnings }: TrackLog,
  unmeasured: readonly string[],
  raiseFt: number | null,
  failedAtS: number | undefined,
  contactTold: boolean,
): string[] {
  const notes = [...warnings];
  if (unmeasured.includes('indicatedAirspeedKt'))
    notes.push('It does not hold the airspeed: groundspeed is not airspeed, so no speed and no stall is marked.');
  if (unmeasured.includes('bankDeg'))
    notes.push('Bank is inferred from the turn without allowing for wind; it is shown and not marked.');
  if (unmeasured.includes('verticalSpeedFpm')) notes.push('Sink is taken from the altitude and is not marked.');
  notes.push(
    raiseFt === null
      ? `Heights count from the ${altitudeFrom === 'pressure' ? 'pressure altitude' : 'altitude'} as it stands in the log.`
      : `Altitudes were moved by ${Math.round(raiseFt)} ft, so that the standing aeroplane is on the runway.`,
  );
  if (!contactTold)
    notes.push('The moment of contact is taken from the altitude: the place of the touchdown may be some 250 ft off.');
  if (failedAtS === undefined)
    notes.push('The loss of power is taken to be at the highest point; the delay is not measured.');
  return notes.slice(0, 20).map((note) => note.slice(0, 500));
}
