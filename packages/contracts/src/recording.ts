// A recording: newline-delimited JSON, append-only: one header, then samples and events as they came, then one end line.
import { z } from 'zod';
import { shortText } from './quantities.js';
import { Sample } from './sample.js';
import { DrawnFailure, ScenarioBundle } from './scenario.js';

export const RECORDING_FORMAT = 'stillprop-recording';
export const RECORDING_VERSION = 1;

export const AttemptId = z.uuid('must be a UUID');

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
  /** Link profile the samples came through. */
  link: shortText,
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

export const RecordedEvent = z.strictObject({
  kind: z.literal('event'),
  /** Simulator seconds of the newest sample; null before the first. */
  timeS: z.number().nullable(),
  code: ExerciseEventCode,
  /** One sentence. */
  text: z.string().max(1000),
  /** Figures behind it, by name with unit suffix. */
  figures: z.record(z.string(), z.number()).optional(),
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
