// A recording: newline-delimited JSON, append-only: one header, then samples and events as they came, then one end line.
import { z } from 'zod';
import { shortText } from './quantities.js';
import { SAMPLE_CHANNELS, Sample } from './sample.js';
import { DrawnFailure, ScenarioBundle } from './scenario.js';

export const RECORDING_FORMAT = 'stillprop-recording';
export const RECORDING_VERSION = 1;

export const AttemptId = z.uuid('must be a UUID');

/** Where an imported recording came from, and what its log did not measure. */
export const ImportedFrom = z.strictObject({
  format: z.enum(['gpx', 'igc', 'nmea', 'csv']),
  /** How the moment of the loss of power is known: told by a person, or taken from where the climb ends. */
  lossFrom: z.enum(['given', 'climb-end']),
  /** Channels whose values in the samples are inferred from the track: they are never marked. */
  unmeasured: z.array(z.enum(SAMPLE_CHANNELS as [keyof Sample])),
  /** What a reader must know of the log, one sentence each. */
  notes: z.array(z.string().max(500)).max(20),
});
export type ImportedFrom = z.infer<typeof ImportedFrom>;

export const RecordingHeader = z.strictObject({
  kind: z.literal('header'),
  format: z.literal(RECORDING_FORMAT, `must be "${RECORDING_FORMAT}"`),
  version: z.literal(RECORDING_VERSION, `must be ${RECORDING_VERSION}`),
  attemptId: AttemptId,
  /** Wall clock, ISO 8601 with Z. */
  startedAt: z.iso.datetime('must be a date and time like 2026-01-31T09:30:00Z'),
  station: shortText,
  student: shortText.nullable(),
  ...ScenarioBundle.shape,
  /** The failure drawn for this attempt. */
  drawn: DrawnFailure,
  /** Link profile the samples came through; of several, the one that leads. */
  link: shortText,
  /** All link profiles whose channels were merged into the samples, the leading one first; absent: `link` alone. */
  links: z.array(shortText).min(2).optional(),
  /** Channels that no simulator sent: the link calculated them from others. Absent: none. */
  derived: z.array(z.enum(SAMPLE_CHANNELS as [keyof Sample])).optional(),
  /** `arrival`: `timeS` is the clock of the bridge when the data came. Absent: the simulator's own time. */
  timeSource: z.literal('arrival').optional(),
  /** Made from a track log, not recorded beside a simulator. Absent: recorded. */
  imported: ImportedFrom.optional(),
});
export type RecordingHeader = z.infer<typeof RecordingHeader>;

export const RecordedSample = z.strictObject({ kind: z.literal('sample'), ...Sample.shape });
export type RecordedSample = z.infer<typeof RecordedSample>;

export const ExerciseEventCode = z.enum([
  'armed',
  'lift-off',
  'fail-commanded',
  'command-repeated',
  'power-fell',
  'not-obeyed',
  'fail-now',
  'no-failure-drawn',
  'restored',
  'go-around',
  'contact',
  'data-fault',
  'link-silent',
  'link-back',
  'closed',
]);
export type ExerciseEventCode = z.infer<typeof ExerciseEventCode>;

/** What made the failure: a command made for it, the throttle closed by command, or a hand on the throttle. */
export const FailureMeans = z.enum(['command', 'cut-throttle', 'by-hand']);
export type FailureMeans = z.infer<typeof FailureMeans>;

export const RecordedEvent = z.strictObject({
  kind: z.literal('event'),
  /** Simulator seconds of the newest sample; null before the first. */
  timeS: z.number().nullable(),
  code: ExerciseEventCode,
  /** One sentence. */
  text: z.string().max(1000),
  /** Figures behind it, by name with unit suffix. */
  figures: z.record(z.string(), z.number()).optional(),
  /** Of `fail-commanded`, where it was no command made for failures; absent: it was. */
  means: FailureMeans.optional(),
});
export type RecordedEvent = z.infer<typeof RecordedEvent>;

export const CloseReason = z.enum([
  'stopped',
  'left-area',
  'floor',
  'simulator-reset',
  'instructor',
  'link-lost',
  'went-around',
  'interrupted',
]);
export type CloseReason = z.infer<typeof CloseReason>;

export const RecordingEnd = z.strictObject({
  kind: z.literal('end'),
  timeS: z.number().nullable(),
  reason: CloseReason,
  text: z.string().max(1000),
  samples: z.int().min(0),
});
export type RecordingEnd = z.infer<typeof RecordingEnd>;

export const RecordingLine = z.discriminatedUnion('kind', [
  RecordingHeader,
  RecordedSample,
  RecordedEvent,
  RecordingEnd,
]);
export type RecordingLine = z.infer<typeof RecordingLine>;

/** A recording in memory. */
export interface Recording {
  readonly header: RecordingHeader;
  readonly samples: readonly Sample[];
  readonly events: readonly RecordedEvent[];
  /** null: the recording broke off. */
  readonly end: RecordingEnd | null;
}
