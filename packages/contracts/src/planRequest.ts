// A request to plan a departure: a fly request, and what the planner is to look at besides.
import type { LandableField } from '@stillprop/physics';
import { z } from 'zod';
import { FlyRequest } from './flyRequest.js';
import { quantity, shortText } from './quantities.js';

const heightFt = quantity(50, 6000, 'ft above the runway');

/** A field that could be landed on, in the runway frame: along the take-off direction from brake release, right positive. */
export const Field = z.strictObject({
  name: shortText,
  polygon: z
    .array(z.strictObject({ alongFt: quantity(-100_000, 100_000, 'ft'), acrossFt: quantity(-100_000, 100_000, 'ft') }))
    .min(3, 'must hold 3 to 100 corners')
    .max(100, 'must hold 3 to 100 corners'),
}) satisfies z.ZodType<LandableField>;

export const PlanQuestions = z.strictObject({
  /** Heights scanned for return windows. */
  fromFt: heightFt.optional(),
  toFt: heightFt.optional(),
  /** Flights at each height of the spread; 0: no spread. */
  draws: z.int('must be a whole number').min(0, 'must be 0 to 100000').max(100_000, 'must be 0 to 100000').optional(),
  seed: z.int('must be a whole number').min(0, 'must be 0 or more').optional(),
  spreadHeightsFt: z
    .array(heightFt)
    .min(1, 'must hold 1 to 50 heights')
    .max(50, 'must hold 1 to 50 heights')
    .optional(),
  fields: z.array(Field).max(100, 'must hold at most 100 fields').optional(),
});

export const PlanRequest = z.strictObject({ ...FlyRequest.shape, plan: PlanQuestions.optional() });
export type PlanRequest = z.infer<typeof PlanRequest>;
