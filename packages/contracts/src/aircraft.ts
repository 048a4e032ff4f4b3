// The aeroplane as its handbook states it.
import type { AircraftNumbers } from '@stillprop/physics';
import { z } from 'zod';
import { quantity, shortText } from './quantities.js';

export const PropellerState = z.enum(
  ['coarse', 'stopped', 'windmillingFine'],
  'must be coarse, stopped or windmillingFine',
);
export type PropellerState = z.infer<typeof PropellerState>;

const sinkFactor = quantity(0.5, 3, '').optional();

export const Aircraft = z.strictObject({
  name: shortText,
  massKg: quantity(100, 10_000, 'kg').describe('Mass flown'),
  referenceMassKg: quantity(100, 10_000, 'kg')
    .optional()
    .describe('Mass the handbook speeds belong to; the mass flown when absent'),
  wingAreaM2: quantity(3, 100, 'm²'),
  wingSpanM: quantity(3, 40, 'm'),
  stallCleanKcas: quantity(20, 150, 'kt'),
  stallLandingKcas: quantity(20, 150, 'kt'),
  bestGlideKcas: quantity(20, 200, 'kt'),
  bestGlideRatio: quantity(3, 40, ''),
  bestGlidePropeller: PropellerState.describe('Propeller state the handbook glide belongs to'),
  propellerSinkFactor: z
    .strictObject({ coarse: sinkFactor, stopped: sinkFactor, windmillingFine: sinkFactor })
    .describe('Sink at best glide in each propeller state, relative to each other'),
  climb: z
    .array(z.strictObject({ kcas: quantity(20, 200, 'kt'), rateFpm: quantity(50, 6000, 'ft/min') }))
    .min(1, 'must hold one or two climb points')
    .max(2, 'must hold one or two climb points'),
  gearDragCoefficient: quantity(0, 0.2, ''),
  flapDragCoefficient: quantity(0, 0.3, ''),
  takeoffTo50FtFt: quantity(200, 20_000, 'ft'),
  takeoffFigure: z
    .enum(['today', 'handbook'], 'must be today or handbook')
    .optional()
    .describe(
      'Whether takeoffTo50FtFt is as flown today (also when absent), or the handbook figure to be factored for the day',
    ),
  landingRollFt: quantity(50, 20_000, 'ft'),
}) satisfies z.ZodType<AircraftNumbers>;
export type Aircraft = z.infer<typeof Aircraft>;
