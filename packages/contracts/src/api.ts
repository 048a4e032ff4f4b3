// Answers of the debrief server's HTTP routes.
import { z } from 'zod';
import { RecordedEvent, RecordingEnd, RecordingHeader } from './recording.js';
import { ReturnMoment } from './returnMoment.js';
import { FlownOutcome, Score } from './score.js';

export const ApiError = z.strictObject({ code: z.string(), message: z.string() });
export type ApiError = z.infer<typeof ApiError>;

/** One row of the list of attempts. */
export const AttemptSummary = z.strictObject({
  attemptId: z.string(),
  startedAt: z.string(),
  station: z.string(),
  student: z.string().nullable(),
  scenarioId: z.string(),
  scenarioRevision: z.int(),
  scenarioName: z.string(),
  aircraftName: z.string(),
  runwayName: z.string(),
  rubricId: z.string(),
  rubricRevision: z.int(),
  /** Revision of the scoring engine; null: not scored yet. */
  engineRevision: z.string().nullable(),
  failureHeightFt: z.number().nullable(),
  /** null, as all that is scored: not scored. */
  outcome: FlownOutcome.nullable(),
  overall: z.number().nullable(),
  delayScore: z.number().nullable(),
  bankScore: z.number().nullable(),
  airspeedScore: z.number().nullable(),
  touchdownScore: z.number().nullable(),
  /** What the criteria measured, in their units; touchdown from the aim point, long positive. */
  delayS: z.number().nullable(),
  bankDeg: z.number().nullable(),
  airspeedKt: z.number().nullable(),
  touchdownFt: z.number().nullable(),
  /** Height that all deviations cost together. */
  costFt: z.number().nullable(),
  /** false: the recording broke off. */
  complete: z.boolean(),
  samples: z.int(),
  sha256: z.string(),
  /** One sentence: why it could not be scored; null: it could, or has not been tried. */
  problem: z.string().nullable(),
});
export type AttemptSummary = z.infer<typeof AttemptSummary>;

export const AttemptList = z.strictObject({
  attempts: z.array(AttemptSummary),
  total: z.int(),
  /** Pass as `before` for the next page; null: no more. */
  next: z.string().nullable(),
});
export type AttemptList = z.infer<typeof AttemptList>;

/** Figures of attempts that students are compared by. */
export const COMPARED_FIGURES = ['overall', 'delayS', 'bankDeg', 'airspeedKt', 'touchdownFt', 'costFt'] as const;
export type ComparedFigure = (typeof COMPARED_FIGURES)[number];

/** A scenario with a rubric and revision of it that attempts were flown by. */
export const Comparable = z.strictObject({
  scenarioId: z.string(),
  scenarioName: z.string(),
  rubricId: z.string(),
  rubricRevision: z.int(),
  attempts: z.int(),
});
export type Comparable = z.infer<typeof Comparable>;

/** Count and spread of one figure, of the attempts in which it was measured. */
export const Spread = z.strictObject({
  count: z.int(),
  lowest: z.number(),
  lowerQuartile: z.number(),
  median: z.number(),
  upperQuartile: z.number(),
  highest: z.number(),
});
export type Spread = z.infer<typeof Spread>;

export const StudentFigures = z.strictObject({
  /** null: flown without a name. */
  student: z.string().nullable(),
  attempts: z.int(),
  /** Start of the newest attempt. */
  newest: z.string(),
  /** null: measured in no attempt. */
  figures: z.record(z.enum(COMPARED_FIGURES), Spread.nullable()),
});
export type StudentFigures = z.infer<typeof StudentFigures>;

export const Comparison = z.strictObject({
  /** Other revisions of rubric or engine are not in it; so many attempts at the scenario were left out for that. */
  leftOut: z.int(),
  students: z.array(StudentFigures),
});
export type Comparison = z.infer<typeof Comparison>;

const column = z.array(z.number().nullable());
/** One attempt as columns of equal length, time ascending; null: not measured at that moment. */
export const Trace = z.strictObject({
  timeS: z.array(z.number()),
  heightFt: column,
  indicatedAirspeedKt: column,
  /** Stall speed at the load factor then flown (kt indicated). */
  stallSpeedKt: column,
  bankDeg: column,
  verticalSpeedFpm: column,
  loadFactor: column,
  powerFraction: column,
  /** From brake release in the take-off direction, right positive; null throughout: the runway has no position. */
  alongFt: column,
  acrossFt: column,
  headingDeg: column,
});
export type Trace = z.infer<typeof Trace>;

/** All that the Debrief page needs of one attempt, apart from its trace. */
export const AttemptDetail = z.strictObject({
  summary: AttemptSummary,
  header: RecordingHeader,
  events: z.array(RecordedEvent),
  end: RecordingEnd.nullable(),
  score: Score,
  /** What a return is reckoned from, or why it cannot be; absent: not told. */
  returnMoment: ReturnMoment.optional(),
});
export type AttemptDetail = z.infer<typeof AttemptDetail>;

export const ScenarioChoice = z.strictObject({
  id: z.string(),
  revision: z.int(),
  name: z.string(),
  briefing: z.string(),
  aircraftName: z.string(),
  runwayName: z.string(),
});
export type ScenarioChoice = z.infer<typeof ScenarioChoice>;
