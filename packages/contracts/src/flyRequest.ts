// A request to fly one modelled attempt: what `stillprop fly` reads.
import type { FlyRequest as PhysicsRequest } from '@stillprop/physics';
import { z } from 'zod';
import { Aircraft, PropellerState } from './aircraft.js';
import { quantity } from './quantities.js';
import { Runway } from './runway.js';
import { Technique } from './technique.js';
import { Weather } from './weather.js';

export const Failure = z.strictObject({
  heightFt: quantity(50, 6000, 'ft above the runway'),
  powerFraction: quantity(0, 0.99, '').default(0),
  propeller: PropellerState.default('coarse'),
  powerChanges: z
    .array(z.strictObject({ atS: quantity(0, 600, 's'), powerFraction: quantity(0, 0.99, '') }))
    .max(500, 'must hold at most 500 changes')
    .optional()
    .describe('Power that comes and goes after the failure, by seconds since it, in rising order'),
});
export type Failure = z.infer<typeof Failure>;

export const FlyRequest = z.strictObject({
  aircraft: Aircraft,
  runway: Runway,
  weather: Weather.default({ temperatureC: 15, qnhHpa: 1013.25, winds: [] }),
  technique: Technique,
  failure: Failure,
}) satisfies z.ZodType<PhysicsRequest>;
export type FlyRequest = z.infer<typeof FlyRequest>;
