// Positions on the WGS 84 ellipsoid to and from the runway frame: along from the take-off end, across right positive.
import geodesic from 'geographiclib-geodesic';
import type { Runway } from './runway.js';

const M_PER_FT = 0.3048;
const RAD_PER_DEG = Math.PI / 180;
const wgs84 = geodesic.Geodesic.WGS84;

export interface RunwayPosition {
  readonly alongFt: number;
  readonly acrossFt: number;
}

/** A runway whose take-off end has a position. */
export type PlacedRunway = Runway & { readonly start: NonNullable<Runway['start']> };

export function isPlaced(runway: Runway): runway is PlacedRunway {
  return runway.start !== undefined;
}

/**
 * Where a point lies in the runway frame (ft): the geodesic from the take-off end, split along its azimuth there.
 * Within 10 km it differs from a local tangent plane by less than 0.01 m (Karney, J. Geodesy 87, 2013).
 */
export function toRunwayFrame(runway: PlacedRunway, latitudeDeg: number, longitudeDeg: number): RunwayPosition {
  const { s12 = 0, azi1 = 0 } = wgs84.Inverse(
    runway.start.latitudeDeg,
    runway.start.longitudeDeg,
    latitudeDeg,
    longitudeDeg,
  );
  const angleRad = (azi1 - runway.headingTrueDeg) * RAD_PER_DEG;
  const distanceFt = s12 / M_PER_FT;
  return { alongFt: distanceFt * Math.cos(angleRad), acrossFt: distanceFt * Math.sin(angleRad) };
}

/** The point at a place of the runway frame: the inverse of {@link toRunwayFrame}. */
export function fromRunwayFrame(
  runway: PlacedRunway,
  { alongFt, acrossFt }: RunwayPosition,
): { latitudeDeg: number; longitudeDeg: number } {
  const azimuthDeg = runway.headingTrueDeg + Math.atan2(acrossFt, alongFt) / RAD_PER_DEG;
  const distanceM = Math.hypot(alongFt, acrossFt) * M_PER_FT;
  const { lat2 = 0, lon2 = 0 } = wgs84.Direct(
    runway.start.latitudeDeg,
    runway.start.longitudeDeg,
    azimuthDeg,
    distanceM,
  );
  return { latitudeDeg: lat2, longitudeDeg: lon2 };
}
