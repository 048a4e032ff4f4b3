// What lift a glide was flown at, and whether best glide lies within: a polar beyond is no more than a parabola drawn on.
import { type Aeroplane, MPS_PER_KT, SEA_LEVEL_DENSITY_KG_M3 } from '@stillprop/physics';
import type { GlideColumns } from './glideColumns.js';
import type { FlownRange } from './glideFit.js';
import type { Polar } from './polarFit.js';

/** Outermost samples at either end that do not count, so that a noisy one makes no range (share of all). */
const OUTERMOST = 0.02;
/**
 * Best glide this near the range (ratio of lift coefficients; 5 % in speed) counts as flown: with r the ratio of the
 * speeds the glide ratio is 2/(r² + 1/r²) of the best, 99.5 % at r = 1.05.
 */
const NEAR = 1.05 ** 2;

/** @param used Samples the fit rests on, as indices of the columns. */
export function flownRange(
  columns: GlideColumns,
  used: readonly number[],
  plane: Aeroplane,
  { dragZeroLift, inducedFactor }: Polar,
): FlownRange {
  const lifts = used
    .map((i) => {
      const pressurePa = 0.5 * (columns.densityKgM3[i] as number) * (columns.tasMps[i] as number) ** 2;
      return ((columns.loadFactor[i] as number) * plane.weightN) / (pressurePa * plane.wingAreaM2);
    })
    .sort((a, b) => a - b);
  const outermost = Math.floor(OUTERMOST * lifts.length);
  const low = lifts[outermost] as number;
  const high = lifts[lifts.length - 1 - outermost] as number;
  const levelKcas = (lift: number) => {
    const loading = plane.weightN / plane.wingAreaM2;
    const easMps = Math.sqrt(loading / (0.5 * SEA_LEVEL_DENSITY_KG_M3 * Math.max(lift, Number.MIN_VALUE)));
    return easMps / MPS_PER_KT;
  };
  const bestLift = Math.sqrt(dragZeroLift / inducedFactor);
  return {
    liftCoefficient: { low, high },
    levelKcas: { low: levelKcas(high), high: levelKcas(low) },
    bestGlideLiftCoefficient: bestLift,
    bestGlideInside: bestLift >= low / NEAR && bestLift <= high * NEAR,
  };
}

/** Says where best glide was not flown. */
export function rangeCautions({ liftCoefficient: lift, levelKcas, ...best }: FlownRange): string[] {
  if (best.bestGlideInside) return [];
  const side = best.bestGlideLiftCoefficient < lift.low ? 'faster' : 'slower';
  const [slow, fast] = [levelKcas.low.toFixed(0), levelKcas.high.toFixed(0)];
  const speeds = slow === fast ? `${slow} kt` : `${slow} to ${fast} kt`;
  return [
    `Best glide was not flown: the glide was like one straight ahead at ${speeds} (lift coefficient ${lift.low.toFixed(2)} to ${lift.high.toFixed(2)}), and best glide is ${side} (lift coefficient ${best.bestGlideLiftCoefficient.toFixed(2)}). Its speed is not told, and its ratio holds only if the drag goes on out there as it was fitted; glide ${side} as well to have both measured.`,
  ];
}
