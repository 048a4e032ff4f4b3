// One runway in its take-off direction, and the airfield around it.
import type { RunwayNumbers } from '@stillprop/physics';
import { z } from 'zod';
import { compassDeg, latitudeDeg, longitudeDeg, quantity, shortText } from './quantities.js';

export const Surface = z.enum(
  ['paved', 'wet-paved', 'dry-grass', 'wet-grass'],
  'must be paved, wet-paved, dry-grass or wet-grass',
);

export const Runway = z.strictObject({
  name: shortText,
  airfieldName: shortText.optional(),
  lengthFt: quantity(300, 20_000, 'ft'),
  widthFt: quantity(10, 1000, 'ft'),
  headingTrueDeg: compassDeg,
  elevationFt: quantity(-1500, 10_000, 'ft'),
  surface: Surface.default('paved'),
  airfield: z
    .strictObject({ beyondEndFt: quantity(0, 20_000, 'ft'), besideFt: quantity(0, 20_000, 'ft') })
    .default({ beyondEndFt: 0, besideFt: 0 })
    .describe('Ground inside the aerodrome boundary: beyond each runway end, and to each side of the centreline'),
  slopePercent: quantity(-10, 10, '%')
    .optional()
    .describe('Uphill in the take-off direction positive; level when absent'),
  takeoffStartFt: quantity(0, 19_900, 'ft')
    .optional()
    .describe('Brake release this far along the runway; its end when absent'),
  others: z
    .array(
      z.strictObject({
        name: shortText,
        lengthFt: quantity(300, 20_000, 'ft'),
        widthFt: quantity(10, 1000, 'ft'),
        headingTrueDeg: compassDeg,
        surface: Surface.default('paved'),
        slopePercent: quantity(-10, 10, '%').optional(),
        startAlongFt: quantity(-30_000, 30_000, 'ft'),
        startAcrossFt: quantity(-30_000, 30_000, 'ft'),
      }),
    )
    .max(12, 'must hold at most 12 runways')
    .optional()
    .describe(
      'Other runways of the airfield that a return may go to, each by where it begins in the frame of this one',
    ),
  start: z
    .strictObject({ latitudeDeg, longitudeDeg })
    .optional()
    .describe('Centreline at the runway end where the take-off begins (WGS 84); needed to place recorded positions'),
}) satisfies z.ZodType<RunwayNumbers>;
export type Runway = z.infer<typeof Runway>;
