// The scale of one criterion's bar: a stretch of its unit with the band of full marks and the mark of this attempt.
import type { Criterion, CriterionName } from '@stillprop/contracts';
import { decimalsOf, figure, plainNumber } from './figures.js';

/** Room beside the band, in band widths, when the attempt lies in it. */
const ROOM = 1.2;
/** A mark farther from the band than this many band widths stands at the edge, and says so. */
const FARTHEST = 8;

export interface BarScale {
  readonly from: number;
  readonly to: number;
  /** Shares of the length, 0 to 1. */
  readonly bandFrom: number;
  readonly bandTo: number;
  /** null: not measured. */
  readonly mark: number | null;
  /** The mark lies beyond the scale on this side. */
  readonly beyond: 'below' | 'above' | null;
}

type BarCriterion = Pick<Criterion, 'measured' | 'target' | 'band' | 'unit'>;

/** A scale that holds the whole band and the attempt's mark, however far it fell, and keeps the band visible. */
export function barScale({ measured, target, band }: BarCriterion): BarScale {
  const lowest = band.from ?? Math.min(0, target);
  const bandTo = band.to ?? Math.max(target, lowest) + Math.max(Math.abs(target - lowest), 1);
  const bandWidth = Math.max(bandTo - lowest, 1e-6);
  const startsAtZero = isOrLess({ target, band }) && lowest === 0 && (measured ?? 0) >= 0;
  let from = startsAtZero ? 0 : lowest - ROOM * bandWidth;
  let to = bandTo + ROOM * bandWidth;
  let beyond: BarScale['beyond'] = null;
  if (measured !== null) {
    const margin = 0.25 * bandWidth;
    if (measured < lowest - FARTHEST * bandWidth) beyond = 'below';
    else from = Math.min(from, measured - margin);
    if (measured > bandTo + FARTHEST * bandWidth) beyond = 'above';
    else to = Math.max(to, measured + margin);
    if (startsAtZero) from = 0;
  }
  const share = (value: number) => Math.min(1, Math.max(0, (value - from) / (to - from)));
  return {
    from,
    to,
    bandFrom: band.from === null ? 0 : share(lowest),
    bandTo: band.to === null ? 1 : share(bandTo),
    mark: measured === null ? null : share(measured),
    beyond,
  };
}

/** What was measured in words: `4.1 s`, `980 ft beyond`, `not measured`. */
export function measuredText(name: CriterionName, { measured, target, unit }: BarCriterion): string {
  // The touchdown on a runway is measured from the aim point.
  if (name !== 'touchdown' || measured === null || unit !== 'ft' || target !== 0) return figure(measured, unit);
  if (Math.round(measured) === 0) return 'on the point';
  return `${figure(Math.abs(measured), unit)} ${measured < 0 ? 'short' : 'beyond'}`;
}

/** The target in words: `3 s or less`, `45° ± 5°`, `85 kt, +10 −5`. */
export function targetText(name: CriterionName, { target, band, unit }: BarCriterion): string {
  const decimals = Number.isInteger(target) ? 0 : decimalsOf(unit);
  const prefix = name === 'touchdown' ? 'aim point' : figure(target, unit, decimals);
  if (band.to !== null && isOrLess({ target, band })) {
    return `${figure(band.to, unit, Number.isInteger(band.to) ? 0 : decimalsOf(unit))} or less`;
  }
  if (band.from !== null && band.to === null) return `${figure(band.from, unit, decimals)} or more`;
  if (band.from === null || band.to === null) return figure(target, unit, decimals);
  const below = target - band.from;
  const above = band.to - target;
  if (Math.abs(below - above) < 1e-9) return `${prefix} ± ${figure(above, unit, decimals)}`;
  const tail = name === 'touchdown' ? ` ${unit}` : '';
  return `${prefix}, +${plainNumber(above, decimals)} −${plainNumber(below, decimals)}${tail}`;
}

/** A target that only has an upper end: `3 s or less`. */
function isOrLess({ target, band }: Pick<BarCriterion, 'target' | 'band'>): boolean {
  return band.to !== null && (band.from === null || (band.from <= 0 && band.to === target));
}
