// Land-ahead planning: which of the fields around the airfield lie in the footprint.
import type { Footprint } from './footprint.js';
import { distanceToEdgeFt, innerPoints, isInside, type Point } from './polygon.js';

/** Ground that could be landed on, as a polygon in the runway frame; the caller says what is landable. */
export interface LandableField {
  readonly name: string;
  /** Three corners or more (ft), in order round it. */
  readonly polygon: readonly Point[];
}

export interface FieldReached {
  readonly name: string;
  /** All of it, part of it or none of it lies within reach. */
  readonly reached: 'all' | 'part' | 'none';
  /** Share of its ground within reach, counted on a grid of points (to about 2 %). */
  readonly share: number;
  /** From its middle to the edge of the footprint (ft), negative: that far out of reach. */
  readonly marginFt: number;
}

/**
 * Holds fields against a footprint, in the order given. A field within reach is not yet a field to land in: its length,
 * slope, surface, wires and the wind over it are the pilot's to judge.
 *
 * @throws {RangeError} If a field has fewer than three corners, no ground in it, or a corner that is not a number.
 */
export function fieldsReached(footprint: Pick<Footprint, 'polygon'>, fields: readonly LandableField[]): FieldReached[] {
  return fields.map((field, index) => {
    const at = `fields[${index}].polygon`;
    if (field.polygon.length < 3) throw new RangeError(`${at}.length must be 3 or more, got ${field.polygon.length}`);
    field.polygon.forEach(({ alongFt, acrossFt }, corner) => {
      if (!(Math.abs(alongFt) <= 1e6 && Math.abs(acrossFt) <= 1e6))
        throw new RangeError(
          `${at}[${corner}] must be within 1000000 ft of brake release, got ${alongFt}, ${acrossFt}`,
        );
    });
    const points = innerPoints(field.polygon);
    if (points.length === 0) throw new RangeError(`${at} must enclose ground, got one without width`);
    const middle = {
      alongFt: points.reduce((sum, point) => sum + point.alongFt, 0) / points.length,
      acrossFt: points.reduce((sum, point) => sum + point.acrossFt, 0) / points.length,
    };
    const share = points.filter((point) => isInside(footprint.polygon, point)).length / points.length;
    const toEdgeFt = footprint.polygon.length < 3 ? 0 : distanceToEdgeFt(footprint.polygon, middle);
    return {
      name: field.name,
      reached: share === 1 ? ('all' as const) : share > 0 ? ('part' as const) : ('none' as const),
      share,
      marginFt: isInside(footprint.polygon, middle) ? toEdgeFt : -toEdgeFt,
    };
  });
}
