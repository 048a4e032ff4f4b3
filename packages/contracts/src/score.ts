// The score of one attempt: four criteria, findings, ledger, verdict, and the events and phases they rest on.
import { z } from 'zod';

export const CriterionName = z.enum(['delay', 'bank', 'airspeed', 'touchdown']);
export type CriterionName = z.infer<typeof CriterionName>;

export const Criterion = z.strictObject({
  /** 0 to 100; null: not measured. */
  score: z.number().min(0).max(100).nullable(),
  measured: z.number().nullable(),
  target: z.number(),
  unit: z.string(),
  /** Share of the total, of those measured (sums to 1 over the measured ones); 0 when not measured. */
  weight: z.number().min(0).max(1),
  /** The band of full marks in `unit`, for drawing; null on a side means open. */
  band: z.strictObject({ from: z.number().nullable(), to: z.number().nullable() }),
  /** Moment it refers to, in the recording's seconds. */
  atS: z.number().nullable(),
  /** One sentence a student can act on. */
  text: z.string(),
  /** Further figures behind the score, by name with unit suffix. */
  details: z.record(z.string(), z.number().nullable()),
});
export type Criterion = z.infer<typeof Criterion>;

export const FindingCode = z.enum([
  'stall',
  'stall-warning',
  'low-turn',
  'bank-at-contact',
  'off-runway',
  /** A return that came down outside the airfield; in place of `off-runway`. */
  'off-airfield',
  'not-aligned',
  'overrun',
  'gear-up',
  'hard-contact',
  /** An impact nobody is to call a landing; in place of `hard-contact`. */
  'crash',
  'reacted-early',
  'no-action',
  'turned-back-without-return',
  'landed-ahead',
  'return-was-open',
  'no-failure',
  /** The attempt ended in the air, so it has no total. */
  'not-flown-out',
  'data-gap',
  /** The recording contradicts the scenario's wind: the one it tells of is reckoned with. */
  'wind-differs',
  /** The simulator was paused on the way: that time is taken out. */
  'paused',
  /** The recording holds several losses of power, of which one is scored. */
  'several-failures',
]);
export type FindingCode = z.infer<typeof FindingCode>;

export const Severity = z.enum(['fault', 'caution', 'note']);
export type Severity = z.infer<typeof Severity>;

export const Finding = z.strictObject({
  code: FindingCode,
  severity: Severity,
  atS: z.number().nullable(),
  text: z.string(),
  /** Highest total beside this finding; absent: it caps nothing. */
  cap: z.number().min(0).max(100).optional(),
});
export type Finding = z.infer<typeof Finding>;

export const ScoreEventCode = z.enum([
  'lift-off',
  'power-lost',
  'first-action',
  'push-complete',
  'bank-established',
  'turned-90',
  'turned-180',
  'wings-level',
  'aligned',
  'gear-down',
  'flap-down',
  'flare',
  'contact',
  'last-contact',
  'stopped',
]);
export type ScoreEventCode = z.infer<typeof ScoreEventCode>;

export const ScoreEvent = z.strictObject({
  code: ScoreEventCode,
  atS: z.number(),
  /** Above the runway (or floor). */
  heightFt: z.number(),
  text: z.string(),
});
export type ScoreEvent = z.infer<typeof ScoreEvent>;

export const PhaseName = z.enum([
  'take-off',
  'climb',
  'delay',
  'push',
  'turn',
  'straight',
  'align',
  'final',
  'flare',
  'roll-out',
]);
export type PhaseName = z.infer<typeof PhaseName>;
export const Phase = z.strictObject({ name: PhaseName, fromS: z.number(), toS: z.number() });
export type Phase = z.infer<typeof Phase>;

/** Where the height went: the rows add up to the height at failure. */
export const Ledger = z.strictObject({
  heightAtFailureFt: z.number(),
  rows: z.array(
    z.strictObject({
      code: z.string(),
      text: z.string(),
      /** Height change in this phase (ft), negative: spent. */
      heightFt: z.number(),
      /** Energy height change (ft): height plus speed turned into height. */
      energyFt: z.number(),
      fromS: z.number(),
      toS: z.number(),
    }),
  ),
  heightAtContactFt: z.number(),
});
export type Ledger = z.infer<typeof Ledger>;

export const Verdict = z.strictObject({
  /** One sentence. */
  text: z.string(),
  /** Height from which a return works by the model from that state with the rubric's technique (ft); null: none found. */
  neededFt: z.number().nullable(),
  hadFt: z.number().nullable(),
  returnExisted: z.boolean().nullable(),
});
export type Verdict = z.infer<typeof Verdict>;

/** What each deviation from the technique cost: by how much less height a return works by the model with it put right. */
export const Costs = z.strictObject({
  /** One sentence. */
  text: z.string(),
  /** Lowest height, at the place and in the state of the failure, from which the technique asked reaches the runway (ft). */
  neededAskedFt: z.number().nullable(),
  /** The same with delay, bank, speed and side as they were flown. */
  neededFlownFt: z.number().nullable(),
  /** Their difference (ft), which the rows add up to; null: it cannot be told. */
  totalFt: z.number().nullable(),
  rows: z.array(
    z.strictObject({
      code: z.enum(['delay', 'bank', 'airspeed', 'side', 'interaction']),
      text: z.string(),
      /** Height (ft) that putting it right gains; below 0: it gained height. */
      costFt: z.number(),
    }),
  ),
});
export type Costs = z.infer<typeof Costs>;

const ScoreWind = z.strictObject({
  fromTrueDeg: z.number(),
  speedKt: z.number(),
});

/** Which wind verdict and costs reckon with, and what the recording tells of it. */
export const WindUsed = z.strictObject({
  /** `estimated`: the recording contradicts the scenario's wind, and the one it tells of is taken. */
  source: z.enum(['scenario', 'estimated']),
  /** Height above the runway of the winds told here (ft): the mean of the flight they come from. */
  heightFt: z.number(),
  scenario: ScoreWind,
  /** From airspeed, heading and the way over the ground; null: they do not tell it. */
  estimate: z
    .strictObject({
      ...ScoreWind.shape,
      /** Root mean square length of the error of the wind's vector (kt). */
      standardErrorKt: z.number(),
    })
    .nullable(),
  /** What one standard error along the runway does to the height a return needed (ft); null: not told. */
  neededGiveOrTakeFt: z.number().nullable(),
});
export type WindUsed = z.infer<typeof WindUsed>;

export const FlownOutcome = z.enum([
  'stopped-on-runway',
  'overrun',
  'on-airfield',
  'off-airfield',
  'wing-low-contact',
  'crash',
  'stall',
  'landed-ahead',
  'no-contact',
  /** It came down, but the recording cannot tell where: the runway has no position. */
  'not-known',
]);
export type FlownOutcome = z.infer<typeof FlownOutcome>;

export const Score = z.strictObject({
  attemptId: z.string(),
  /** Whole number 0 to 100; null: nothing could be measured, or the attempt ended in the air. */
  overall: z.number().min(0).max(100).nullable(),
  /** The total before any finding capped it. */
  uncapped: z.number().min(0).max(100).nullable(),
  /** The sentence that stands first: what to do differently, or what went well. */
  headline: z.string(),
  outcome: FlownOutcome,
  criteria: z.strictObject({ delay: Criterion, bank: Criterion, airspeed: Criterion, touchdown: Criterion }),
  findings: z.array(Finding),
  verdict: Verdict,
  ledger: Ledger.nullable(),
  /** null: nothing to compare, as after a landing ahead or over a floor. */
  costs: Costs.nullable(),
  /** Absent: no flight to tell it from, or scored by an earlier revision of the engine. */
  wind: WindUsed.optional(),
  events: z.array(ScoreEvent),
  phases: z.array(Phase),
  /** Failure as it took effect; null: no failure in the recording. */
  failure: z
    .strictObject({
      atS: z.number(),
      heightFt: z.number(),
      plannedHeightFt: z.number().nullable(),
      distanceFt: z.number().nullable(),
      indicatedAirspeedKt: z.number(),
    })
    .nullable(),
  engineRevision: z.string(),
  rubric: z.strictObject({ id: z.string(), revision: z.int(), name: z.string() }),
});
export type Score = z.infer<typeof Score>;
