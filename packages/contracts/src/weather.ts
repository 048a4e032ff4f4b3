// The day's air at the airfield. Winds count from the runway surface upwards; none given means calm.
import type { WeatherNumbers } from '@stillprop/physics';
import { z } from 'zod';
import { compassDeg, quantity } from './quantities.js';

export const Wind = z.strictObject({
  heightFt: quantity(3, 20_000, 'ft'),
  fromTrueDeg: compassDeg,
  speedKt: quantity(0, 100, 'kt'),
});
export type Wind = z.infer<typeof Wind>;

export const Weather = z.strictObject({
  temperatureC: quantity(-60, 60, '°C').default(15),
  qnhHpa: quantity(850, 1100, 'hPa').default(1013.25),
  winds: z.array(Wind).max(20, 'must hold at most 20 winds').default([]),
}) satisfies z.ZodType<WeatherNumbers>;
export type Weather = z.infer<typeof Weather>;
