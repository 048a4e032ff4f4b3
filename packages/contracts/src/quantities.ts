// Bounded numbers with a unit, shared by the schemas: each bound is wide enough for any light single, and says so when missed.
import { z } from 'zod';

/** A finite number between two values (both included), named with its unit in messages. */
export function quantity(lowest: number, highest: number, unit: string) {
  const range = `must be ${lowest} to ${highest}${unit === '' ? '' : ` ${unit}`}`;
  return z
    .number(`must be a number${unit === '' ? '' : ` of ${unit}`}`)
    .min(lowest, range)
    .max(highest, range)
    .meta({ unit });
}

/** A direction people write. */
export const compassDeg = quantity(0, 360, 'degrees');
/** A direction a simulator sends: some count below 0 or past 360. */
export const headingDeg = quantity(-360, 720, 'degrees');
export const latitudeDeg = quantity(-90, 90, 'degrees');
export const longitudeDeg = quantity(-180, 180, 'degrees');
/** Identifiers become file names and URLs, so they are kept plain. */
export const identifier = z
  .string('must be text')
  .regex(
    /^[a-z0-9][a-z0-9-]{0,63}$/,
    'must be 1 to 64 lower-case letters, digits and hyphens, not starting with a hyphen',
  );
export const shortText = z
  .string('must be text')
  .min(1, 'must not be empty')
  .max(200, 'must be at most 200 characters');
