// From coordinates fixed to the earth (x through 0° N 0° E, z through the north pole) to latitude, height and local axes.

/** Coordinates or components along x, y, z. */
export type Vector = readonly [x: number, y: number, z: number];

export interface Place {
  readonly latitudeRad: number;
  readonly longitudeRad: number;
  /** Above the WGS 84 ellipsoid, not above sea level. */
  readonly ellipsoidHeightM: number;
}

export interface LocalAxes {
  readonly north: Vector;
  readonly east: Vector;
  readonly down: Vector;
}

// WGS 84, NIMA TR8350.2: semi-major axis and flattening.
const A_M = 6_378_137;
const FLATTENING = 1 / 298.257223563;
const B_M = A_M * (1 - FLATTENING);
const E2 = FLATTENING * (2 - FLATTENING);
const SECOND_E2 = E2 / (1 - E2);
/** Deeper or farther out, the position is none of an aeroplane's, and Bowring's formula no longer holds. */
const NEAREST_M = 6_300_000;
const FARTHEST_M = 6_500_000;

/**
 * Latitude, longitude and height of a point, or null where it is not near the earth's surface.
 *
 * @param point Earth-centred, earth-fixed coordinates, m.
 * @see Bowring, "Transformation from spatial to geographical coordinates", Survey Review 23 (1976), 323–327.
 */
export function placeOf([x, y, z]: Vector): Place | null {
  const distance = Math.hypot(x, y, z);
  if (!(distance >= NEAREST_M && distance <= FARTHEST_M)) return null;
  const axisDistance = Math.hypot(x, y);
  // One round of Bowring's formula: good to less than 0.1 mm wherever an aeroplane flies.
  const reduced = Math.atan2(A_M * z, B_M * axisDistance);
  const latitudeRad = Math.atan2(
    z + SECOND_E2 * B_M * Math.sin(reduced) ** 3,
    axisDistance - E2 * A_M * Math.cos(reduced) ** 3,
  );
  const sine = Math.sin(latitudeRad);
  return {
    latitudeRad,
    longitudeRad: Math.atan2(y, x),
    // This form holds at the poles and the equator alike.
    ellipsoidHeightM: axisDistance * Math.cos(latitudeRad) + z * sine - A_M * Math.sqrt(1 - E2 * sine * sine),
  };
}

/** Unit vectors north, east and down at a place. */
export function localAxes({ latitudeRad, longitudeRad }: Place): LocalAxes {
  const [sinLat, cosLat] = [Math.sin(latitudeRad), Math.cos(latitudeRad)];
  const [sinLon, cosLon] = [Math.sin(longitudeRad), Math.cos(longitudeRad)];
  return {
    north: [-sinLat * cosLon, -sinLat * sinLon, cosLat],
    east: [-sinLon, cosLon, 0],
    down: [-cosLat * cosLon, -cosLat * sinLon, -sinLat],
  };
}

export function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
