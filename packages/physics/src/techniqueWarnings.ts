// Where a technique asks for what its own speed cannot give: said, never mended.
import type { HandbookWarning } from './handbookWarnings.js';
import type { FlyRequest } from './request.js';
import { stallKcas } from './schedule.js';
import { RAD_PER_DEG } from './units.js';

/**
 * Doubts about the technique of a request that has passed `checkFlyRequest`. At so many stall speeds V/Vs1 the wing gives
 * a load factor n = (V/(margin·Vs1))² and keeps the margin; a level turn at bank φ takes 1/cos φ. A speed below
 * margin·Vs1/√cos φ, at the mass flown, therefore holds acos(1/n) and no more: the modelled pilot flies that, or lets the
 * nose drop where `bankKept` says so.
 *
 * @returns One warning for each speed of the turn that is too slow, `technique.targetKcas` first; none for a technique
 *   that lands ahead.
 */
export function techniqueWarnings(request: FlyRequest): HandbookWarning[] {
  const { technique } = request;
  const { targetKcas, turnEntryKcas } = technique;
  if (technique.turn === 'ahead') return [];
  const leastKcas = (technique.stallMargin * stallKcas(request)) / Math.sqrt(Math.cos(technique.bankDeg * RAD_PER_DEG));
  const speeds = [
    { field: 'technique.targetKcas', kcas: targetKcas },
    ...(turnEntryKcas === undefined ? [] : [{ field: 'technique.turnEntryKcas', kcas: turnEntryKcas }]),
  ];
  return speeds
    .filter(({ kcas }) => kcas < leastKcas)
    .map(({ field, kcas }) => ({ field, message: tooSlow(request, kcas, leastKcas) }));
}

function tooSlow(request: FlyRequest, kcas: number, leastKcas: number): string {
  const { bankDeg, bankKept, stallMargin } = request.technique;
  const loadFactor = (kcas / (stallMargin * stallKcas(request))) ** 2;
  const held =
    loadFactor <= 1 ? 'no bank at all' : `only ${Math.floor(Math.acos(1 / loadFactor) / RAD_PER_DEG)}° of bank`;
  const instead = bankKept
    ? `the ${bankDeg}° are kept here and the nose drops`
    : 'the turn computed is that one, wider and slower to come round';
  return `${bankDeg}° of bank takes ${Math.ceil(leastKcas)} kt to stay ${stallMargin.toFixed(2)} times the stall speed; ${+kcas.toFixed(1)} kt holds ${held}: ${instead}, and pulling for more stalls`;
}
