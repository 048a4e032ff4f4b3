// Orientation of a body against the earth's axes as heading, pitch and bank against the local horizon.
import { dot, type LocalAxes, type Vector } from './earth.js';

/** The body's axes in earth-fixed components: forward, right, down. */
export interface BodyAxes {
  readonly forward: Vector;
  readonly right: Vector;
  readonly down: Vector;
}

export interface Attitude {
  /** True, -π to π. */
  readonly headingRad: number;
  readonly pitchRad: number;
  /** Right wing down positive. */
  readonly bankRad: number;
}

/**
 * The body's axes after turning from the earth's by psi about z, theta about the new y, phi about the new x.
 *
 * @see IEEE 1278.1, orientation of an entity: Euler angles.
 */
export function bodyAxes(psiRad: number, thetaRad: number, phiRad: number): BodyAxes {
  const [sinPsi, cosPsi] = [Math.sin(psiRad), Math.cos(psiRad)];
  const [sinTheta, cosTheta] = [Math.sin(thetaRad), Math.cos(thetaRad)];
  const [sinPhi, cosPhi] = [Math.sin(phiRad), Math.cos(phiRad)];
  return {
    forward: [cosPsi * cosTheta, sinPsi * cosTheta, -sinTheta],
    right: [
      cosPsi * sinTheta * sinPhi - sinPsi * cosPhi,
      sinPsi * sinTheta * sinPhi + cosPsi * cosPhi,
      cosTheta * sinPhi,
    ],
    down: [
      cosPsi * sinTheta * cosPhi + sinPsi * sinPhi,
      sinPsi * sinTheta * cosPhi - cosPsi * sinPhi,
      cosTheta * cosPhi,
    ],
  };
}

/** Heading, pitch and bank of a body against the local axes. */
export function attitudeOf(body: BodyAxes, local: LocalAxes): Attitude {
  return {
    headingRad: Math.atan2(dot(local.east, body.forward), dot(local.north, body.forward)),
    // Rounding may carry the sine a little past 1.
    pitchRad: Math.asin(Math.max(-1, Math.min(1, -dot(local.down, body.forward)))),
    bankRad: Math.atan2(dot(local.down, body.right), dot(local.down, body.down)),
  };
}
