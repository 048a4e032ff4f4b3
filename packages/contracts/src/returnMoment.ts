// The moment of an attempt that a return is reckoned from: where the power was lost, as the flight model takes it.
import type { FlightStart as PhysicsStart } from '@stillprop/physics';
import { z } from 'zod';
import { FlyRequest } from './flyRequest.js';

/** State in the runway frame; see the same shape in physics. */
export const FlightStart = z.strictObject({
  alongFt: z.number(),
  acrossFt: z.number(),
  heightFt: z.number(),
  ktas: z.number(),
  headingTrueDeg: z.number(),
  verticalSpeedFpm: z.number(),
  bankDeg: z.number(),
  loadFactor: z.number().optional(),
  powerFraction: z.number().optional(),
  gearDown: z.boolean().optional(),
  flapDown: z.boolean().optional(),
}) satisfies z.ZodType<PhysicsStart>;

export const ReturnMoment = z.discriminatedUnion('ok', [
  z.strictObject({
    ok: z.literal(true),
    moment: z.strictObject({
      /** Simulator seconds of the recording. */
      timeS: z.number(),
      request: FlyRequest,
      start: FlightStart,
    }),
  }),
  /** `why`: half a sentence without capital and full stop. */
  z.strictObject({ ok: z.literal(false), why: z.string() }),
]);
export type ReturnMoment = z.infer<typeof ReturnMoment>;
