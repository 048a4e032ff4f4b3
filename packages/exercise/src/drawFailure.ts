// The failure of one attempt, drawn from its plan.
import type { DrawnFailure, FailurePlan } from '@stillprop/contracts';
import { seededGenerator } from './seededGenerator.js';

/**
 * The failure drawn for one attempt: the same plan, seed and index give the same one for ever.
 * A sealed series has its own seed, so every student meets the same heights, whatever `seed` is.
 *
 * @param seed Whole number from 0; decides heights drawn in a range.
 * @param seriesIndex Which attempt of a series this is, from 0.
 * @returns Height in whole feet, evenly spread over the range, ends included; null where no failure comes.
 */
export function drawFailure(plan: FailurePlan, seed: number, seriesIndex = 0): DrawnFailure {
  const { height, propeller } = plan;
  const powerFraction = plan.kind === 'total' || plan.kind === 'none' ? 0 : plan.powerFraction;
  const none: DrawnFailure = { kind: 'none', heightFt: null, powerFraction: 0, propeller };
  if (plan.kind === 'none') return none;
  if (height.choose === 'fixed') return { kind: plan.kind, heightFt: height.heightFt, powerFraction, propeller };
  const next = seededGenerator(height.choose === 'sealed-series' ? height.seed : seed, seriesIndex);
  const share = next();
  if (height.choose === 'sealed-series' && share < height.noFailureShare) return none;
  const lowestFt = Math.ceil(height.lowestFt);
  const wholeFeet = Math.max(0, Math.floor(height.highestFt) - lowestFt);
  const heightFt = Math.min(height.highestFt, lowestFt + Math.floor(next() * (wholeFeet + 1)));
  return { kind: plan.kind, heightFt, powerFraction, propeller };
}
