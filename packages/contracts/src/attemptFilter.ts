// What a list or a comparison of attempts can be narrowed by, as it stands in the query of a route.
import { z } from 'zod';
import { FlownOutcome } from './score.js';

const instant = z.iso.datetime('must be a time in UTC such as 2026-03-01T00:00:00Z');
const heightRule = 'must be a height from 0 to 60,000 ft';
const heightFt = z.coerce.number(heightRule).min(0, heightRule).max(60_000, heightRule);
const LONGEST_NAME = 100;

/** Fields of a query; absent: not narrowed by it. */
export const ATTEMPT_FILTER = {
  /** Outcomes of the score with commas between: any of them. */
  outcome: z
    .string()
    .transform((text, context) => {
      const read = z.array(FlownOutcome).safeParse(text.split(','));
      if (read.success) return read.data;
      context.addIssue(`must be outcomes with commas between, of ${FlownOutcome.options.join(', ')}`);
      return z.NEVER;
    })
    .optional(),
  /** Begun at this moment or later. */
  startedFrom: instant.optional(),
  /** Begun before this moment. */
  startedBefore: instant.optional(),
  /** Height at which the power was lost, as the pages show it: to the foot. */
  heightFromFt: heightFt.optional(),
  heightToFt: heightFt.optional(),
  /** Held by the student's name, whatever the case. */
  name: z.string().max(LONGEST_NAME, `must have at most ${LONGEST_NAME} characters`).optional(),
} as const;

const Filter = z.strictObject(ATTEMPT_FILTER);
export type AttemptFilter = z.output<typeof Filter>;
